package dev.colonnade.schema.liquibase;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.ColumnChange.DropColumn;
import dev.colonnade.schema.change.ColumnChange.ModifyColumn;
import dev.colonnade.schema.change.ColumnChange.SetNullable;
import dev.colonnade.schema.change.ConstraintChange.AddForeignKey;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.ConstraintChange.DropAllForeignKeys;
import dev.colonnade.schema.change.DropConstraint;
import dev.colonnade.schema.change.IndexChange.DropIndex;
import dev.colonnade.schema.change.RowsChanged;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import dev.colonnade.schema.change.SchemaChange.CreateTable;
import dev.colonnade.schema.change.SchemaChange.DropTable;
import dev.colonnade.schema.change.SchemaChange.RenameTable;
import dev.colonnade.schema.change.SchemaChange.RowsLoaded;
import dev.colonnade.schema.change.ViewChange.CreateView;
import dev.colonnade.schema.change.ViewChange.DropView;
import dev.colonnade.schema.change.ViewChange.RenameView;
import dev.colonnade.schema.sql.TypeFamilies;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import liquibase.change.Change;
import liquibase.change.ColumnConfig;
import liquibase.change.ConstraintsConfig;
import liquibase.change.core.AddAutoIncrementChange;
import liquibase.change.core.AddForeignKeyConstraintChange;
import liquibase.change.core.AddLookupTableChange;
import liquibase.change.core.AddNotNullConstraintChange;
import liquibase.change.core.CreateViewChange;
import liquibase.change.core.DeleteDataChange;
import liquibase.change.core.DropAllForeignKeyConstraintsChange;
import liquibase.change.core.DropColumnChange;
import liquibase.change.core.DropForeignKeyConstraintChange;
import liquibase.change.core.DropIndexChange;
import liquibase.change.core.DropNotNullConstraintChange;
import liquibase.change.core.DropPrimaryKeyChange;
import liquibase.change.core.DropTableChange;
import liquibase.change.core.DropUniqueConstraintChange;
import liquibase.change.core.DropViewChange;
import liquibase.change.core.InsertDataChange;
import liquibase.change.core.RenameTableChange;
import liquibase.change.core.RenameViewChange;
import liquibase.database.Database;
import liquibase.structure.core.Schema;

/** Changes whose effect is the same in every database, read from their attributes. */
final class DirectChanges {
  /** True where what other databases call a schema is a catalog. */
  private final boolean catalogs;

  private DirectChanges(boolean catalogs) {
    this.catalogs = catalogs;
  }

  /**
   * The effects; nothing where the change is of another type.
   *
   * @param database the database, which says what a catalog is
   */
  static Optional<List<SchemaChange>> read(Change change, Database database, SourceLocation at) {
    DirectChanges reader = new DirectChanges(!database.supports(Schema.class));
    Optional<List<SchemaChange>> drops = reader.drops(change, at);
    return drops.isPresent() ? drops : reader.others(change, at);
  }

  private Optional<List<SchemaChange>> drops(Change change, SourceLocation at) {
    if (change instanceof DropTableChange drop) {
      return one(
          new DropTable(
              table(drop.getCatalogName(), drop.getSchemaName(), drop.getTableName()),
              /* ifExists= */ false,
              at));
    }
    if (change instanceof DropColumnChange drop) {
      List<SchemaChange> changes = new ArrayList<>();
      for (String column : columns(drop)) {
        changes.add(
            new DropColumn(
                table(drop.getCatalogName(), drop.getSchemaName(), drop.getTableName()),
                name(column),
                /* ifExists= */ false,
                /* dropsIndexes= */ false,
                at));
      }
      return Optional.of(changes);
    }
    if (change instanceof DropIndexChange drop) {
      return one(
          new DropIndex(indexed(drop), name(drop.getIndexName()), /* ifExists= */ false, at));
    }
    if (change instanceof DropPrimaryKeyChange drop) {
      return one(
          constraint(
              table(drop.getCatalogName(), drop.getSchemaName(), drop.getTableName()),
              ConstraintKind.PRIMARY_KEY,
              drop.getConstraintName(),
              at));
    }
    if (change instanceof DropUniqueConstraintChange drop) {
      return one(
          constraint(
              table(drop.getCatalogName(), drop.getSchemaName(), drop.getTableName()),
              ConstraintKind.UNIQUE,
              drop.getConstraintName(),
              at));
    }
    if (change instanceof DropForeignKeyConstraintChange drop) {
      return one(
          constraint(
              table(
                  drop.getBaseTableCatalogName(),
                  drop.getBaseTableSchemaName(),
                  drop.getBaseTableName()),
              ConstraintKind.FOREIGN_KEY,
              drop.getConstraintName(),
              at));
    }
    if (change instanceof DropAllForeignKeyConstraintsChange drop) {
      return one(
          new DropAllForeignKeys(
              table(
                  drop.getBaseTableCatalogName(),
                  drop.getBaseTableSchemaName(),
                  drop.getBaseTableName()),
              at));
    }
    if (change instanceof DropViewChange drop) {
      boolean ifExists = Boolean.TRUE.equals(drop.isIfExists());
      return one(
          new DropView(
              table(drop.getCatalogName(), drop.getSchemaName(), drop.getViewName()),
              ifExists,
              at));
    }
    return Optional.empty();
  }

  /** The column is defined anew; where it may not be NULL, that is its own doing from now on. */
  private List<SchemaChange> autoIncrement(AddAutoIncrementChange add, SourceLocation at) {
    Identifier table = table(add.getCatalogName(), add.getSchemaName(), add.getTableName());
    Identifier column = name(add.getColumnName());
    return List.of(
        new ModifyColumn(table, column, ColumnType.UNKNOWN, Optional.of(false), at),
        new SetNullable(table, column, /* nullable= */ false, at));
  }

  private static List<String> columns(DropColumnChange drop) {
    if (drop.getColumnName() != null && !drop.getColumnName().isBlank()) {
      return List.of(drop.getColumnName());
    }
    return drop.getColumns().stream().map(ColumnConfig::getName).toList();
  }

  private Optional<List<SchemaChange>> others(Change change, SourceLocation at) {
    if (change instanceof RenameTableChange rename) {
      return one(
          new RenameTable(
              table(rename.getCatalogName(), rename.getSchemaName(), rename.getOldTableName()),
              name(rename.getNewTableName()),
              at));
    }
    if (change instanceof RenameViewChange rename) {
      return one(
          new RenameView(
              table(rename.getCatalogName(), rename.getSchemaName(), rename.getOldViewName()),
              name(rename.getNewViewName()),
              at));
    }
    if (change instanceof AddNotNullConstraintChange add) {
      return one(
          new SetNullable(
              table(add.getCatalogName(), add.getSchemaName(), add.getTableName()),
              name(add.getColumnName()),
              /* nullable= */ false,
              at));
    }
    if (change instanceof DropNotNullConstraintChange drop) {
      return one(
          new SetNullable(
              table(drop.getCatalogName(), drop.getSchemaName(), drop.getTableName()),
              name(drop.getColumnName()),
              /* nullable= */ true,
              at));
    }
    if (change instanceof AddAutoIncrementChange add) {
      return Optional.of(autoIncrement(add, at));
    }
    if (change instanceof AddForeignKeyConstraintChange add) {
      return one(
          new AddForeignKey(
              table(
                  add.getBaseTableCatalogName(),
                  add.getBaseTableSchemaName(),
                  add.getBaseTableName()),
              optional(add.getConstraintName()),
              names(add.getBaseColumnNames()),
              table(
                  add.getReferencedTableCatalogName(),
                  add.getReferencedTableSchemaName(),
                  add.getReferencedTableName()),
              names(add.getReferencedColumnNames()),
              at));
    }
    if (change instanceof CreateViewChange create) {
      return one(
          new CreateView(
              table(create.getCatalogName(), create.getSchemaName(), create.getViewName()),
              Optional.ofNullable(create.getSelectQuery()).map(String::strip),
              /* materialized= */ false,
              at));
    }
    if (change instanceof AddLookupTableChange add) {
      return Optional.of(lookupTable(add, at));
    }
    if (change instanceof InsertDataChange insert) {
      return one(
          new RowsLoaded(
              table(insert.getCatalogName(), insert.getSchemaName(), insert.getTableName()),
              1,
              at));
    }
    if (change instanceof DeleteDataChange delete) {
      boolean all = delete.getWhere() == null || delete.getWhere().isBlank();
      return one(
          new RowsChanged(
              Optional.of(
                  table(delete.getCatalogName(), delete.getSchemaName(), delete.getTableName())),
              all,
              at));
    }
    return Optional.empty();
  }

  private List<SchemaChange> lookupTable(AddLookupTableChange add, SourceLocation at) {
    Optional<Identifier> schema = schema(add.getNewTableCatalogName(), add.getNewTableSchemaName());
    Identifier name = name(add.getNewTableName());
    Identifier table = Identifier.in(schema, name);
    Identifier column = name(add.getNewColumnName());
    ColumnType type =
        add.getNewColumnDataType() == null
            ? ColumnType.UNKNOWN
            : TypeFamilies.type(add.getNewColumnDataType());
    List<KeyColumn> key = List.of(KeyColumn.of(new ColumnRef(ColumnRef.SELF, column), false));
    SchemaChange primaryKey =
        new AddPrimaryKey(
            table, Optional.empty(), key, List.of(), Optional.empty(), Optional.empty(), at);
    return List.of(
        new CreateTable(
            name,
            schema,
            List.of(new Column(column, type, /* nullable= */ false, Optional.empty())),
            List.of(primaryKey),
            /* ifNotExists= */ false,
            /* columnsKnown= */ true,
            at),
        new AddForeignKey(
            table(
                add.getExistingTableCatalogName(),
                add.getExistingTableSchemaName(),
                add.getExistingTableName()),
            optional(add.getFinalConstraintName()),
            List.of(name(add.getExistingColumnName())),
            table,
            List.of(column),
            at));
  }

  /** The foreign key written at a column: {@code references="berth(id)"} or in two attributes. */
  static Optional<SchemaChange> reference(
      Identifier table, Identifier column, ConstraintsConfig constraints, SourceLocation at) {
    String parent = constraints.getReferencedTableName();
    String columns = constraints.getReferencedColumnNames();
    if (constraints.getReferences() != null) {
      String references = constraints.getReferences();
      int open = references.indexOf('(');
      parent = open < 0 ? references : references.substring(0, open);
      columns = open < 0 ? null : references.substring(open + 1).replace(")", "");
    }
    if (parent == null) {
      return Optional.empty();
    }
    return Optional.of(
        new AddForeignKey(
            table,
            optional(constraints.getForeignKeyName()),
            List.of(column),
            name(parent.strip()),
            names(columns),
            at));
  }

  private static Optional<List<SchemaChange>> one(SchemaChange change) {
    return Optional.of(List.of(change));
  }

  private static SchemaChange constraint(
      Identifier table, ConstraintKind kind, String constraint, SourceLocation at) {
    return new DropConstraint(
        table,
        kind,
        optional(constraint),
        /* ifExists= */ false,
        /* cascade= */ false,
        /* keepsIndex= */ false,
        at);
  }

  private Optional<Identifier> schema(String catalog, String schema) {
    return optional(schema).or(() -> catalogs ? optional(catalog) : Optional.empty());
  }

  private Identifier table(String catalog, String schema, String table) {
    return Identifier.in(schema(catalog, schema), name(table));
  }

  /** The table of an index, or at least the schema. */
  private Optional<Identifier> indexed(DropIndexChange drop) {
    Optional<Identifier> schema = schema(drop.getCatalogName(), drop.getSchemaName());
    return optional(drop.getTableName())
        .map(table -> Identifier.in(schema, table))
        .or(() -> schema);
  }

  /** A name as written in an attribute, without quotes. */
  static Identifier name(String written) {
    return Identifier.of(written == null ? "" : written);
  }

  static Optional<Identifier> optional(String written) {
    return Optional.ofNullable(written).filter(text -> !text.isBlank()).map(Identifier::of);
  }

  /** Names separated by commas; a comma too many is passed over, as Liquibase does. */
  static List<Identifier> names(String written) {
    List<Identifier> names = new ArrayList<>();
    if (written != null) {
      for (String part : written.split(",", -1)) {
        if (!part.isBlank()) {
          names.add(Identifier.of(part));
        }
      }
    }
    return names;
  }
}
