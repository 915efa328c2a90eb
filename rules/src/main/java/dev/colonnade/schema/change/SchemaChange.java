package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import java.util.List;
import java.util.Optional;

/** One effect on the schema, with the place that causes it. */
public sealed interface SchemaChange
    permits CopiedTable,
        DropUniqueKey,
        QueriedTable,
        ReverseIndex,
        RowsChanged,
        WhereTableExists,
        TableAlone,
        TemporaryTable,
        SequenceChange,
        SwitchConstraint,
        TableFromSnapshot,
        SchemaChange.CreateTable,
        SchemaChange.DropTable,
        SchemaChange.RenameTable,
        ColumnChange,
        IndexChange,
        ConstraintChange,
        DropConstraint,
        ViewChange,
        SchemaChange.RowsLoaded {

  /** Where it is written. */
  SourceLocation location();

  /** Dispatches on the kind of change; a new kind breaks the build wherever it must be handled. */
  void accept(SchemaChangeVisitor visitor);

  /** What a dropped constraint is. */
  enum ConstraintKind {
    /** The primary key. */
    PRIMARY_KEY,
    /** A unique constraint. */
    UNIQUE,
    /** A foreign key. */
    FOREIGN_KEY,
    /** Not said: whatever bears the name, a check constraint included. */
    ANY
  }

  /**
   * A table comes into being, with the constraints and indexes written inside it.
   *
   * @param table its name
   * @param schemaName the schema written before the name
   * @param columns in declared order
   * @param parts the constraints and indexes of the statement; they are applied only where the
   *     table is made
   * @param ifNotExists true when an existing table of that name is left alone
   * @param columnsKnown false for a table filled by a query, whose columns are not known here
   * @param location where it is written
   */
  record CreateTable(
      Identifier table,
      Optional<Identifier> schemaName,
      List<Column> columns,
      List<SchemaChange> parts,
      boolean ifNotExists,
      boolean columnsKnown,
      SourceLocation location)
      implements SchemaChange {
    /** Copies the lists. */
    public CreateTable {
      columns = List.copyOf(columns);
      parts = List.copyOf(parts);
    }

    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.createTable(this);
    }
  }

  /**
   * A table goes, and with it its indexes, its constraints and the foreign keys that refer to it.
   *
   * @param table its name
   * @param ifExists true when a missing table is no error
   * @param location where it is written
   */
  record DropTable(Identifier table, boolean ifExists, SourceLocation location)
      implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.dropTable(this);
    }
  }

  /**
   * A table changes its name.
   *
   * @param from name before
   * @param to name after
   * @param location where it is written
   */
  record RenameTable(Identifier from, Identifier to, SourceLocation location)
      implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.renameTable(this);
    }
  }

  /**
   * The changelog itself puts rows into a table.
   *
   * @param table the table
   * @param rows how many
   * @param location where it is written
   */
  record RowsLoaded(Identifier table, long rows, SourceLocation location) implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.rowsLoaded(this);
    }
  }
}
