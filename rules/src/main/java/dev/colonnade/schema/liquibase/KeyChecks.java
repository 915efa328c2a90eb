package dev.colonnade.schema.liquibase;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.dialect.SchemaRules.Naming;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import dev.colonnade.schema.change.SchemaFold;
import dev.colonnade.schema.change.TableKey;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import liquibase.database.Database;
import liquibase.database.core.DB2Database;
import liquibase.database.core.DerbyDatabase;
import liquibase.database.core.H2Database;
import liquibase.database.core.HsqlDatabase;
import liquibase.database.core.MySQLDatabase;
import liquibase.database.core.OracleDatabase;
import liquibase.database.core.PostgresDatabase;
import liquibase.database.core.SQLiteDatabase;
import liquibase.precondition.core.ForeignKeyExistsPrecondition;
import liquibase.precondition.core.IndexExistsPrecondition;
import liquibase.precondition.core.PrimaryKeyExistsPrecondition;
import liquibase.precondition.core.UniqueConstraintExistsPrecondition;
import liquibase.structure.core.Column;
import liquibase.structure.core.PrimaryKey;

/**
 * Decides preconditions on keys and indexes as Liquibase 4.33.0 does, whose answers differ from
 * database to database because it asks their catalogs in different ways: read in its snapshot
 * generators, and observed on six databases by the tests.
 */
final class KeyChecks {
  private final Database database;
  private final SchemaFold fold;
  private final ObjectNames names;
  private final boolean keyIndexNamesUnforeseeable;

  KeyChecks(Dialect dialect, Database database, SchemaFold fold, ObjectNames names) {
    this.database = database;
    this.fold = fold;
    this.names = names;
    this.keyIndexNamesUnforeseeable =
        SchemaRules.of(dialect).naming().value() == Naming.UNFORESEEABLE;
  }

  /** Where a name is given, it decides and columns are not looked at. */
  Trilean index(IndexExistsPrecondition wanted) {
    Optional<Table> table =
        wanted.getTableName() == null
            ? Optional.ofNullable(wanted.getIndexName())
                .flatMap(name -> fold.tableOfIndex(Identifier.of(name)))
                .flatMap(fold::table)
            : names.find(wanted.getCatalogName(), wanted.getSchemaName(), wanted.getTableName());
    return Trilean.of(
        table.stream()
            .flatMap(found -> found.indexes().stream())
            .filter(this::isListed)
            .anyMatch(
                index ->
                    wanted.getIndexName() == null
                        ? sameColumns(wanted.getColumnNames(), columns(index))
                        : isNamed(index, wanted.getIndexName())));
  }

  /** The rows of a table that lie in the order of its integer key are no index to a catalog. */
  private boolean isListed(Index index) {
    return !(database instanceof SQLiteDatabase
        && index.origin() == IndexOrigin.PRIMARY_KEY
        && index.clustered());
  }

  private boolean isNamed(Index index, String wanted) {
    return !(keyIndexNamesUnforeseeable && index.origin() != IndexOrigin.CREATE_INDEX)
        && names.matches(wanted, index.name(), liquibase.structure.core.Index.class);
  }

  Trilean foreignKey(ForeignKeyExistsPrecondition wanted) {
    if (wanted.getForeignKeyName() == null) {
      return Trilean.FALSE;
    }
    Identifier name = Identifier.of(wanted.getForeignKeyName());
    Stream<Identifier> tables =
        wanted.getForeignKeyTableName() == null
            ? fold.tablesOfConstraint(name).stream()
            : names
                .find(
                    wanted.getCatalogName(),
                    wanted.getSchemaName(),
                    wanted.getForeignKeyTableName())
                .map(Table::name)
                .stream();
    boolean found =
        tables
            .flatMap(table -> fold.keys(table).stream())
            .anyMatch(key -> key.kind() == ConstraintKind.FOREIGN_KEY && key.name().equals(name));
    if (!found || wanted.getForeignKeyTableName() == null) {
      return Trilean.of(found);
    }
    return names.table(
        wanted.getCatalogName(), wanted.getSchemaName(), wanted.getForeignKeyTableName());
  }

  /** On some databases Liquibase ends with an error where no table is named. */
  Trilean primaryKey(PrimaryKeyExistsPrecondition wanted) {
    String name = wanted.getPrimaryKeyName();
    if (wanted.getTableName() == null) {
      return needsTable() || name == null
          ? Trilean.UNKNOWN
          : Trilean.of(
              fold.tablesOfConstraint(Identifier.of(name)).stream()
                  .anyMatch(table -> hasPrimaryKey(table, name)));
    }
    Optional<Table> table =
        names.find(wanted.getCatalogName(), wanted.getSchemaName(), wanted.getTableName());
    return Trilean.of(table.filter(found -> hasPrimaryKey(found.name(), name)).isPresent());
  }

  private boolean needsTable() {
    return database instanceof H2Database
        || database instanceof MySQLDatabase
        || database instanceof HsqlDatabase
        || database instanceof SQLiteDatabase
        || database instanceof DB2Database;
  }

  private boolean hasPrimaryKey(Identifier table, String name) {
    return fold.keys(table).stream()
        .filter(key -> key.kind() == ConstraintKind.PRIMARY_KEY)
        .anyMatch(key -> name == null || primaryKeyName(key).equals(Identifier.of(name)));
  }

  /** MySQL and MariaDB forget the name that was given. */
  private Identifier primaryKeyName(TableKey key) {
    return database instanceof MySQLDatabase ? new Identifier("PRIMARY") : key.name();
  }

  /**
   * By columns alone, Liquibase finds unique constraints of H2 and PostgreSQL only; and none at all
   * where it asks for those of a catalog that the precondition has to name.
   */
  Trilean unique(UniqueConstraintExistsPrecondition wanted) {
    boolean catalogAsked = database instanceof MySQLDatabase || database instanceof HsqlDatabase;
    if (database instanceof SQLiteDatabase || (catalogAsked && wanted.getCatalogName() == null)) {
      return Trilean.FALSE;
    }
    Optional<Table> table =
        names.find(wanted.getCatalogName(), wanted.getSchemaName(), wanted.getTableName());
    List<TableKey> keys = table.map(found -> fold.keys(found.name())).orElse(List.of());
    if (wanted.getConstraintName() != null) {
      boolean found =
          keys.stream()
              .anyMatch(
                  key ->
                      isAmongUnique(key)
                          && names.matches(
                              wanted.getConstraintName(), key.name(), PrimaryKey.class));
      return found && database instanceof OracleDatabase ? Trilean.UNKNOWN : Trilean.of(found);
    }
    boolean columnsAsked = database instanceof H2Database || database instanceof PostgresDatabase;
    return Trilean.of(
        columnsAsked
            && keys.stream()
                .anyMatch(
                    key ->
                        key.kind() == ConstraintKind.UNIQUE
                            && sameColumns(wanted.getColumnNames(), key.columns())));
  }

  /** In PostgreSQL and Derby, Liquibase asks for any constraint of the name. */
  private boolean isAmongUnique(TableKey key) {
    return key.kind() == ConstraintKind.UNIQUE
        || database instanceof PostgresDatabase
        || database instanceof DerbyDatabase;
  }

  private boolean sameColumns(String written, List<Identifier> columns) {
    if (written == null) {
      return false;
    }
    List<String> wanted = names(written);
    if (wanted.size() != columns.size()) {
      return false;
    }
    for (int i = 0; i < columns.size(); i++) {
      if (!names.matches(wanted.get(i), columns.get(i), Column.class)) {
        return false;
      }
    }
    return true;
  }

  private static List<Identifier> columns(Index index) {
    List<Identifier> columns = new ArrayList<>();
    for (KeyColumn key : index.keyColumns()) {
      key.column().ifPresent(columns::add);
    }
    return columns;
  }

  private static List<String> names(String written) {
    List<String> names = new ArrayList<>();
    for (String part : written.split(",", -1)) {
      if (!part.isBlank()) {
        names.add(part.strip());
      }
    }
    return names;
  }
}
