package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
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
        SchemaChange.AddColumn,
        SchemaChange.DropColumn,
        SchemaChange.RenameColumn,
        SchemaChange.ModifyColumn,
        SchemaChange.SetNullable,
        SchemaChange.CreateIndex,
        SchemaChange.DropIndex,
        SchemaChange.RenameIndex,
        SchemaChange.AddPrimaryKey,
        SchemaChange.AddUniqueConstraint,
        SchemaChange.AddForeignKey,
        DropConstraint,
        SchemaChange.DropAllForeignKeys,
        SchemaChange.RenameConstraint,
        SchemaChange.CreateView,
        SchemaChange.DropView,
        SchemaChange.RenameView,
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
   * A table gets one more column, at its end.
   *
   * @param table the table
   * @param column the column
   * @param ifNotExists true when an existing column of that name is left alone
   * @param location where it is written
   */
  record AddColumn(Identifier table, Column column, boolean ifNotExists, SourceLocation location)
      implements SchemaChange {
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
      implements SchemaChange {
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
      implements SchemaChange {
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
      implements SchemaChange {
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
      implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.setNullable(this);
    }
  }

  /**
   * Somebody creates an index.
   *
   * @param name its name; empty where the database chooses
   * @param table the indexed table or materialized view
   * @param unique true when no two entries may have equal keys
   * @param keyColumns the key, leading column first
   * @param includedColumns columns stored without being key
   * @param predicate which rows have an entry
   * @param predicateText the same as written
   * @param method how it is built
   * @param clustered true when the rows are to be stored in this order
   * @param ifNotExists true when an existing index of that name is left alone
   * @param location where it is written
   */
  record CreateIndex(
      Optional<Identifier> name,
      Identifier table,
      boolean unique,
      List<KeyColumn> keyColumns,
      List<Identifier> includedColumns,
      Optional<Predicate> predicate,
      Optional<String> predicateText,
      IndexMethod method,
      boolean clustered,
      boolean ifNotExists,
      SourceLocation location)
      implements SchemaChange {
    /** Copies the lists. */
    public CreateIndex {
      keyColumns = List.copyOf(keyColumns);
      includedColumns = List.copyOf(includedColumns);
    }

    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.createIndex(this);
    }
  }

  /**
   * An index goes.
   *
   * @param table its table, where written
   * @param name its name
   * @param ifExists true when a missing index is no error
   * @param location where it is written
   */
  record DropIndex(
      Optional<Identifier> table, Identifier name, boolean ifExists, SourceLocation location)
      implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.dropIndex(this);
    }
  }

  /**
   * An index changes its name.
   *
   * @param table its table, where written
   * @param from name before
   * @param to name after
   * @param ifExists true when a missing index is no error
   * @param location where it is written
   */
  record RenameIndex(
      Optional<Identifier> table,
      Identifier from,
      Identifier to,
      boolean ifExists,
      SourceLocation location)
      implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.renameIndex(this);
    }
  }

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
      implements SchemaChange {
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
      implements SchemaChange {
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
      implements SchemaChange {
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
  record DropAllForeignKeys(Identifier table, SourceLocation location) implements SchemaChange {
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
      implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.renameConstraint(this);
    }
  }

  /**
   * A view comes into being.
   *
   * @param view its name
   * @param definition the query's text
   * @param materialized true when its rows are stored, so that it can have indexes
   * @param location where it is written
   */
  record CreateView(
      Identifier view, Optional<String> definition, boolean materialized, SourceLocation location)
      implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.createView(this);
    }
  }

  /**
   * A view goes.
   *
   * @param view its name
   * @param ifExists true when a missing view is no error
   * @param location where it is written
   */
  record DropView(Identifier view, boolean ifExists, SourceLocation location)
      implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.dropView(this);
    }
  }

  /**
   * A view changes its name.
   *
   * @param from name before
   * @param to name after
   * @param location where it is written
   */
  record RenameView(Identifier from, Identifier to, SourceLocation location)
      implements SchemaChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.renameView(this);
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
