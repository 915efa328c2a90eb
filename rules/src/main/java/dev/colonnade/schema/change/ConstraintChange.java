package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.KeyColumn;
import java.util.List;
import java.util.Optional;

/** A change of the constraints of a table, keys above all. */
public sealed interface ConstraintChange extends SchemaChange {
  /**
   * A table gets a primary key.
   *
   * @param table the table
   * @param name the constraint's name
   * @param keyColumns its columns
   * @param includedColumns columns stored without being key
   * @param usingIndex the existing index that is to serve it
   * @param clustered whether the rows are to be stored in this order, where written
   * @param location where it is written
   */
  record AddPrimaryKey(
      Identifier table,
      Optional<Identifier> name,
      List<KeyColumn> keyColumns,
      List<Identifier> includedColumns,
      Optional<Identifier> usingIndex,
      Optional<Boolean> clustered,
      SourceLocation location)
      implements ConstraintChange {
    /** Copies the lists. */
    public AddPrimaryKey {
      keyColumns = List.copyOf(keyColumns);
      includedColumns = List.copyOf(includedColumns);
    }

    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.addPrimaryKey(this);
    }
  }

  /**
   * A table gets a unique constraint.
   *
   * @param table the table
   * @param name the constraint's name
   * @param keyColumns its columns
   * @param includedColumns columns stored without being key
   * @param usingIndex the existing index that is to serve it
   * @param clustered true when the rows are to be stored in this order
   * @param location where it is written
   */
  record AddUniqueConstraint(
      Identifier table,
      Optional<Identifier> name,
      List<KeyColumn> keyColumns,
      List<Identifier> includedColumns,
      Optional<Identifier> usingIndex,
      boolean clustered,
      SourceLocation location)
      implements ConstraintChange {
    /** Copies the lists. */
    public AddUniqueConstraint {
      keyColumns = List.copyOf(keyColumns);
      includedColumns = List.copyOf(includedColumns);
    }

    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.addUniqueConstraint(this);
    }
  }

  /**
   * A table gets a foreign key.
   *
   * @param table the referencing table
   * @param name the constraint's name
   * @param columns the referencing columns
   * @param referencedTable the parent table
   * @param referencedColumns the referenced columns; empty where the primary key is meant
   * @param location where it is written
   */
  record AddForeignKey(
      Identifier table,
      Optional<Identifier> name,
      List<Identifier> columns,
      Identifier referencedTable,
      List<Identifier> referencedColumns,
      SourceLocation location)
      implements ConstraintChange {
    /** Copies the lists. */
    public AddForeignKey {
      columns = List.copyOf(columns);
      referencedColumns = List.copyOf(referencedColumns);
    }

    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.addForeignKey(this);
    }
  }

  /**
   * Every foreign key of a table goes.
   *
   * @param table the table
   * @param location where it is written
   */
  record DropAllForeignKeys(Identifier table, SourceLocation location) implements ConstraintChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.dropAllForeignKeys(this);
    }
  }

  /**
   * A constraint changes its name.
   *
   * @param table the table
   * @param from name before
   * @param to name after
   * @param location where it is written
   */
  record RenameConstraint(Identifier table, Identifier from, Identifier to, SourceLocation location)
      implements ConstraintChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.renameConstraint(this);
    }
  }
}
