package dev.colonnade.query.sql;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.sql.Functions;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What names mean beyond the columns in scope: pseudo-columns and functions without parentheses.
 */
final class Names {
  /** Names of the address of a row; sources: the chapters on pseudo-columns of the manuals. */
  private static final Map<String, Set<String>> ROW_ADDRESSES =
      Map.of(
          "sqlite", Set.of("rowid", "oid", "_rowid_"),
          "postgresql", Set.of("ctid", "xmin", "xmax", "cmin", "cmax", "tableoid"),
          "oracle", Set.of("rowid", "ora_rowscn"),
          "h2", Set.of("_rowid_"));

  private final String database;

  Names(String database) {
    this.database = database;
  }

  /** True where an alias of the select list can be used in WHERE (SQLite). */
  boolean aliasesInWhere() {
    return database.equals("sqlite");
  }

  /** Whether the database calls the address of a row so. */
  boolean isRowAddress(Identifier name) {
    return ROW_ADDRESSES.getOrDefault(database, Set.of()).contains(name.folded());
  }

  /**
   * The meaning of a name that is no column of any FROM item.
   *
   * @throws UnreadableSqlException when it has none
   */
  Expression other(Scope scope, Schema schema, Optional<Identifier> qualifier, Identifier name) {
    if (isRowAddress(name)) {
      return rowAddress(scope, schema, qualifier, name);
    }
    if (qualifier.isPresent()) {
      return otherQualified(scope, qualifier.get(), name);
    }
    if (Functions.isBare(name.text())) {
      return new Call(name.folded(), List.of(), true);
    }
    if (name.folded().equals("rownum")) {
      return new Call("rownum", List.of(), false);
    }
    Optional<Scope.Item> row = scope.item(name);
    if (row.isPresent() && database.equals("postgresql")) {
      Set<Expression.ColumnRef> whole = new LinkedHashSet<>();
      row.get().shape().names().forEach(column -> whole.addAll(row.get().column(column).columns()));
      whole.forEach(scope::note);
      return new OpaqueExpression(name.text(), whole);
    }
    throw new UnreadableSqlException("unknown column " + name);
  }

  private static Expression otherQualified(Scope scope, Identifier qualifier, Identifier name) {
    String folded = name.folded();
    if (folded.equals("nextval") || folded.equals("currval")) {
      return new Call(folded, List.of(new Literal(qualifier.text(), LiteralKind.TEXT)), false);
    }
    if (scope.knows(qualifier)) {
      throw new UnreadableSqlException("unknown column " + qualifier + "." + name);
    }
    throw new UnreadableSqlException("unknown table or alias " + qualifier);
  }

  /**
   * SQLite's row number is the primary key where that is one column declared INTEGER (SQLite
   * documentation, "CREATE TABLE", ROWIDs and the INTEGER PRIMARY KEY). Other addresses are beyond
   * the reach of indexes.
   */
  private Expression rowAddress(
      Scope scope, Schema schema, Optional<Identifier> qualifier, Identifier name) {
    List<Scope.Item> items =
        scope.items().stream()
            .filter(item -> qualifier.isEmpty() || qualifier.get().equals(item.alias()))
            .toList();
    if (database.equals("sqlite") && items.size() == 1) {
      Optional<Table> table = schema.table(items.get(0).name());
      Optional<Column> key =
          table
              .filter(it -> it.primaryKey().size() == 1)
              .flatMap(it -> it.column(it.primaryKey().get(0)))
              .filter(it -> it.type().text().equalsIgnoreCase("integer"));
      if (key.isPresent()) {
        Expression column = items.get(0).column(key.get().name());
        column.columns().forEach(scope::note);
        return column;
      }
    }
    throw new UnreadableSqlException("the row address " + name + " is not modelled");
  }
}
