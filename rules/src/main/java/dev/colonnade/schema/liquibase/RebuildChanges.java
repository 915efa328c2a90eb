package dev.colonnade.schema.liquibase;

import static dev.colonnade.schema.liquibase.DirectChanges.name;
import static dev.colonnade.schema.liquibase.DirectChanges.names;
import static dev.colonnade.schema.liquibase.DirectChanges.optional;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.ColumnChange.AddColumn;
import dev.colonnade.schema.change.ColumnChange.DropColumn;
import dev.colonnade.schema.change.ColumnChange.ModifyColumn;
import dev.colonnade.schema.change.ColumnChange.RenameColumn;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.ConstraintChange.AddUniqueConstraint;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.TableFromSnapshot;
import dev.colonnade.schema.sql.TypeFamilies;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import liquibase.change.AddColumnConfig;
import liquibase.change.Change;
import liquibase.change.ColumnConfig;
import liquibase.change.ConstraintsConfig;
import liquibase.change.core.AddAutoIncrementChange;
import liquibase.change.core.AddColumnChange;
import liquibase.change.core.AddDefaultValueChange;
import liquibase.change.core.AddNotNullConstraintChange;
import liquibase.change.core.AddPrimaryKeyChange;
import liquibase.change.core.AddUniqueConstraintChange;
import liquibase.change.core.DropColumnChange;
import liquibase.change.core.MergeColumnChange;
import liquibase.change.core.ModifyDataTypeChange;
import liquibase.change.core.RenameColumnChange;
import liquibase.database.Database;
import liquibase.datatype.DataTypeFactory;

/**
 * Changes for which Liquibase builds the table anew and so has to look at a real one; read from
 * their attributes.
 */
final class RebuildChanges {
  private RebuildChanges() {}

  /** The effects; nothing where the change is of another type. */
  static Optional<List<SchemaChange>> read(Change change, Database database, SourceLocation at) {
    if (change instanceof AddColumnChange add) {
      return Optional.of(addColumns(add, database, at));
    }
    if (change instanceof DropColumnChange drop) {
      return Optional.of(dropColumns(drop, at));
    }
    if (change instanceof AddNotNullConstraintChange add) {
      return one(
          new TableFromSnapshot(
              name(add.getTableName()), Optional.empty(), optional(add.getColumnName()), at));
    }
    if (change instanceof AddAutoIncrementChange add) {
      return one(
          new TableFromSnapshot(
              name(add.getTableName()), optional(add.getColumnName()), Optional.empty(), at));
    }
    if (change instanceof AddDefaultValueChange add) {
      return one(new TableFromSnapshot(name(add.getTableName()), at));
    }
    if (change instanceof AddPrimaryKeyChange add) {
      return one(
          new AddPrimaryKey(
              name(add.getTableName()),
              optional(add.getConstraintName()),
              key(add.getColumnNames()),
              List.of(),
              optional(add.getForIndexName()),
              Optional.ofNullable(add.getClustered()),
              at));
    }
    if (change instanceof AddUniqueConstraintChange add) {
      return one(
          new AddUniqueConstraint(
              name(add.getTableName()),
              optional(add.getConstraintName()),
              key(add.getColumnNames()),
              List.of(),
              optional(add.getForIndexName()),
              Boolean.TRUE.equals(add.getClustered()),
              at));
    }
    if (change instanceof RenameColumnChange rename) {
      return one(
          new RenameColumn(
              name(rename.getTableName()),
              name(rename.getOldColumnName()),
              name(rename.getNewColumnName()),
              at));
    }
    if (change instanceof ModifyDataTypeChange modify) {
      return one(
          new ModifyColumn(
              name(modify.getTableName()),
              name(modify.getColumnName()),
              type(modify.getNewDataType(), database),
              Optional.empty(),
              at));
    }
    if (change instanceof MergeColumnChange merge) {
      return Optional.of(merge(merge, database, at));
    }
    return Optional.empty();
  }

  /** True for a change that leaves the columns as they are elsewhere. */
  static boolean rebuilds(Change change) {
    return change instanceof AddDefaultValueChange;
  }

  /**
   * Those in the list go. A column that is named in the attribute stays: observed with Liquibase
   * 4.33.0, compared in the tests.
   */
  private static List<SchemaChange> dropColumns(DropColumnChange drop, SourceLocation at) {
    Identifier table = name(drop.getTableName());
    List<SchemaChange> changes = new ArrayList<>();
    changes.add(new TableFromSnapshot(table, at));
    for (ColumnConfig column : drop.getColumns()) {
      changes.add(
          new DropColumn(
              table, name(column.getName()), /* ifExists= */ true, /* dropsIndexes= */ true, at));
    }
    return changes;
  }

  private static Optional<List<SchemaChange>> one(SchemaChange change) {
    return Optional.of(List.of(change));
  }

  private static ColumnType type(String declared, Database database) {
    if (declared == null) {
      return ColumnType.UNKNOWN;
    }
    return TypeFamilies.type(
        DataTypeFactory.getInstance()
            .fromDescription(declared, database)
            .toDatabaseDataType(database)
            .toSql());
  }

  private static List<SchemaChange> addColumns(
      AddColumnChange add, Database database, SourceLocation at) {
    List<SchemaChange> changes = new ArrayList<>();
    Identifier table = name(add.getTableName());
    changes.add(new TableFromSnapshot(table, at));
    for (AddColumnConfig config : add.getColumns()) {
      ConstraintsConfig constraints = config.getConstraints();
      // It can hold NULL, whatever is said: observed with Liquibase 4.33.0, compared in the tests.
      Column column =
          new Column(
              name(config.getName()),
              type(config.getType(), database),
              /* nullable= */ true,
              Optional.empty());
      changes.add(new AddColumn(table, column, /* ifNotExists= */ false, at));
      if (constraints != null) {
        constraints(table, config.getName(), constraints, at, changes);
      }
    }
    return changes;
  }

  private static void constraints(
      Identifier table,
      String column,
      ConstraintsConfig constraints,
      SourceLocation at,
      List<SchemaChange> changes) {
    if (Boolean.TRUE.equals(constraints.isPrimaryKey())) {
      changes.add(
          new AddPrimaryKey(
              table,
              optional(constraints.getPrimaryKeyName()),
              key(column),
              List.of(),
              Optional.empty(),
              Optional.empty(),
              at));
    }
    if (Boolean.TRUE.equals(constraints.isUnique())) {
      changes.add(
          new AddUniqueConstraint(
              table,
              optional(constraints.getUniqueConstraintName()),
              key(column),
              List.of(),
              Optional.empty(),
              /* clustered= */ false,
              at));
    }
    DirectChanges.reference(table, name(column), constraints, at).ifPresent(changes::add);
  }

  private static List<SchemaChange> merge(
      MergeColumnChange merge, Database database, SourceLocation at) {
    Identifier table = name(merge.getTableName());
    Column merged =
        new Column(
            name(merge.getFinalColumnName()),
            type(merge.getFinalColumnType(), database),
            /* nullable= */ true,
            Optional.empty());
    return List.of(
        new TableFromSnapshot(table, at),
        new AddColumn(table, merged, /* ifNotExists= */ false, at),
        drop(table, merge.getColumn1Name(), at),
        drop(table, merge.getColumn2Name(), at));
  }

  private static SchemaChange drop(Identifier table, String column, SourceLocation at) {
    return new DropColumn(table, name(column), /* ifExists= */ false, /* dropsIndexes= */ true, at);
  }

  private static List<KeyColumn> key(String written) {
    List<KeyColumn> key = new ArrayList<>();
    for (Identifier name : names(written)) {
      String text = name.text();
      boolean descending = text.matches("(?i).*\\sdesc");
      Identifier column = Identifier.of(text.replaceFirst("(?i)\\s+(?:asc|desc)$", ""));
      key.add(KeyColumn.of(new ColumnRef(ColumnRef.SELF, column), descending));
    }
    return key;
  }
}
