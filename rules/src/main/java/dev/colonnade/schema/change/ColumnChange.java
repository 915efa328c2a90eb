package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import java.util.Optional;

/** A change of a column of a table. */
public sealed interface ColumnChange extends SchemaChange {
  /**
   * A table gets one more column, at its end.
   *
   * @param table the table
   * @param column the column
   * @param ifNotExists true when an existing column of that name is left alone
   * @param location where it is written
   */
  record AddColumn(Identifier table, Column column, boolean ifNotExists, SourceLocation location)
      implements ColumnChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.addColumn(this);
    }
  }

  /**
   * A column goes; what happens to its indexes is the database's own rule.
   *
   * @param table the table
   * @param column the column
   * @param ifExists true when a missing column is no error
   * @param dropsIndexes true when indexes with the column go first, whatever the database would do
   * @param location where it is written
   */
  record DropColumn(
      Identifier table,
      Identifier column,
      boolean ifExists,
      boolean dropsIndexes,
      SourceLocation location)
      implements ColumnChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.dropColumn(this);
    }
  }

  /**
   * A column changes its name, wherever it is used.
   *
   * @param table the table
   * @param from name before
   * @param to name after
   * @param location where it is written
   */
  record RenameColumn(Identifier table, Identifier from, Identifier to, SourceLocation location)
      implements ColumnChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.renameColumn(this);
    }
  }

  /**
   * A column gets another type.
   *
   * @param table the table
   * @param column the column
   * @param type the new type
   * @param nullable whether it may hold NULL from now on; empty where that stays
   * @param location where it is written
   */
  record ModifyColumn(
      Identifier table,
      Identifier column,
      ColumnType type,
      Optional<Boolean> nullable,
      SourceLocation location)
      implements ColumnChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.modifyColumn(this);
    }
  }

  /**
   * A column may, or may no longer, hold NULL.
   *
   * @param table the table
   * @param column the column
   * @param nullable true when it may
   * @param location where it is written
   */
  record SetNullable(Identifier table, Identifier column, boolean nullable, SourceLocation location)
      implements ColumnChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.setNullable(this);
    }
  }
}
