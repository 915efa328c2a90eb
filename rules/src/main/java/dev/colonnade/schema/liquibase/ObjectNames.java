package dev.colonnade.schema.liquibase;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.change.SchemaFold;
import java.util.Locale;
import java.util.Optional;
import liquibase.database.Database;
import liquibase.database.core.MySQLDatabase;
import liquibase.database.core.PostgresDatabase;
import liquibase.database.core.SQLiteDatabase;
import liquibase.precondition.core.ColumnExistsPrecondition;
import liquibase.structure.DatabaseObject;
import liquibase.structure.core.Column;
import liquibase.structure.core.Schema;
import liquibase.structure.core.Sequence;

/**
 * Finds the tables, views and columns that preconditions ask for, with regard to letter case as
 * Liquibase 4.33.0 compares names with a catalog (read in its sources and observed on six
 * databases).
 */
final class ObjectNames {
  private final Database database;
  private final SchemaFold fold;

  ObjectNames(Database database, SchemaFold fold) {
    this.database = database;
    this.fold = fold;
  }

  Trilean table(String catalog, String schema, String name) {
    return find(catalog, schema, name).map(found -> sameCase(name, found)).orElse(Trilean.FALSE);
  }

  Trilean view(String catalog, String schema, String name) {
    if (name == null) {
      return Trilean.FALSE;
    }
    Optional<Identifier> found =
        fold.viewName(Identifier.in(schema(catalog, schema), Identifier.of(name)));
    return found.map(view -> sameCase(name, view)).orElse(Trilean.FALSE);
  }

  /** PostgreSQL makes sequences for columns, named after table and column. */
  Trilean sequence(String name) {
    if (name == null || !database.supports(Sequence.class)) {
      return Trilean.UNKNOWN;
    }
    boolean made = fold.hasSequence(Identifier.of(name));
    return made || !mayBeOfColumn(Identifier.of(name)) ? Trilean.of(made) : Trilean.UNKNOWN;
  }

  private boolean mayBeOfColumn(Identifier sequence) {
    return database instanceof PostgresDatabase
        && sequence.folded().endsWith("_seq")
        && fold.schema().tables().stream()
            .filter(table -> sequence.folded().startsWith(table.name().folded() + "_"))
            .flatMap(table -> table.columns().stream().map(column -> ofColumn(table, column)))
            .anyMatch(sequence::equals);
  }

  private static Identifier ofColumn(Table table, dev.colonnade.schema.Column column) {
    return new Identifier(table.name().unqualified() + "_" + column.name() + "_seq");
  }

  /** What columns a view has is not known here. */
  Trilean column(ColumnExistsPrecondition wanted) {
    String name = wanted.getTableName();
    Optional<Table> table = find(wanted.getCatalogName(), wanted.getSchemaName(), name);
    if (table.isEmpty()) {
      return view(wanted.getCatalogName(), wanted.getSchemaName(), name).and(Trilean.UNKNOWN);
    }
    return table
        .get()
        .column(Identifier.of(wanted.getColumnName()))
        .map(
            column ->
                sameCase(name, table.get())
                    .and(Trilean.of(columnMatches(wanted.getColumnName(), column.name()))))
        .orElse(Trilean.FALSE);
  }

  /** Only for SQLite, columns are looked up in a list of names. */
  private boolean columnMatches(String wanted, Identifier column) {
    return !(database instanceof SQLiteDatabase) || matches(wanted, column, Column.class);
  }

  /** The table of that name in any letter case. */
  Optional<Table> find(String catalog, String schema, String name) {
    return name == null
        ? Optional.empty()
        : fold.table(Identifier.in(schema(catalog, schema), Identifier.of(name)));
  }

  private Trilean sameCase(String wanted, Table found) {
    return sameCase(wanted, found.name().unqualified());
  }

  /**
   * Whether MySQL and MariaDB tell tables apart by letter case depends on the server
   * (https://dev.mysql.com/doc/refman/8.4/en/identifier-case-sensitivity.html).
   */
  private Trilean sameCase(String wanted, Identifier found) {
    if (Identifier.of(wanted).unqualified().text().equals(found.text())) {
      return Trilean.TRUE;
    }
    if (database instanceof SQLiteDatabase) {
      return Trilean.FALSE;
    }
    return database instanceof MySQLDatabase ? Trilean.UNKNOWN : Trilean.TRUE;
  }

  /** True when Liquibase takes both for the same name of an index, key or column. */
  boolean matches(String wanted, Identifier found, Class<? extends DatabaseObject> type) {
    if (database instanceof MySQLDatabase) {
      return Identifier.of(wanted).text().equals(found.text());
    }
    String name = corrected(Identifier.of(wanted).text(), type);
    return name.equals(corrected(found.text(), type))
        || (database instanceof PostgresDatabase
            && name.equals(found.text().toLowerCase(Locale.ROOT)));
  }

  /** As the catalog writes an unquoted name, for all that Liquibase knows. */
  private String corrected(String name, Class<? extends DatabaseObject> type) {
    return database.correctObjectName(name, type);
  }

  private Optional<Identifier> schema(String catalog, String schema) {
    return DirectChanges.optional(schema)
        .or(
            () ->
                database.supports(Schema.class)
                    ? Optional.empty()
                    : DirectChanges.optional(catalog));
  }
}
