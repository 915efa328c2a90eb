package dev.colonnade.schema.sql;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.QueriedTable.Selected;
import dev.colonnade.sql.SqlParser;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import net.sf.jsqlparser.expression.CastExpression;
import net.sf.jsqlparser.expression.Expression;
import net.sf.jsqlparser.expression.Function;
import net.sf.jsqlparser.expression.LongValue;
import net.sf.jsqlparser.expression.StringValue;
import net.sf.jsqlparser.schema.Column;
import net.sf.jsqlparser.schema.Table;
import net.sf.jsqlparser.statement.Statement;
import net.sf.jsqlparser.statement.select.AllColumns;
import net.sf.jsqlparser.statement.select.AllTableColumns;
import net.sf.jsqlparser.statement.select.FromItem;
import net.sf.jsqlparser.statement.select.Join;
import net.sf.jsqlparser.statement.select.PlainSelect;
import net.sf.jsqlparser.statement.select.Select;
import net.sf.jsqlparser.statement.select.SelectItem;
import net.sf.jsqlparser.statement.select.SetOperationList;

/** The columns of a query's result by name, and the columns of tables that they come from. */
final class SelectedColumns {
  /** Each table of FROM by its alias; something else than a table has no name. */
  private final Map<Identifier, Optional<Identifier>> tables = new LinkedHashMap<>();

  /** True where a row of one table may stand without one of another. */
  private boolean outer;

  private SelectedColumns() {}

  /** The columns in order; none where the query, or the name of one of them, is not understood. */
  static List<Selected> of(SqlParser parser, String query) {
    try {
      List<Statement> statements = parser.parse(query).statements();
      return statements.size() == 1 && statements.get(0) instanceof Select select
          ? new SelectedColumns().of(select)
          : List.of();
    } catch (UnreadableSqlException e) {
      return List.of();
    }
  }

  private List<Selected> of(Select select) {
    Select first = select;
    while (first instanceof SetOperationList union) {
      first = union.getSelect(0);
    }
    if (!(first instanceof PlainSelect plain) || select.getWithItemsList() != null) {
      return List.of();
    }
    from(plain.getFromItem());
    if (plain.getJoins() != null) {
      for (Join join : plain.getJoins()) {
        outer |= join.isLeft() || join.isRight() || join.isFull() || join.isOuter();
        from(join.getFromItem());
      }
    }
    List<Selected> selected = new ArrayList<>();
    for (SelectItem<?> item : plain.getSelectItems()) {
      Optional<Selected> column = column(item);
      if (column.isEmpty()) {
        return List.of();
      }
      selected.add(column.get());
    }
    return selected;
  }

  private void from(FromItem item) {
    if (item == null) {
      return;
    }
    Optional<Identifier> table =
        item instanceof Table named
            ? Optional.of(
                Identifier.in(
                    Optional.ofNullable(named.getSchemaName()).map(Identifier::of),
                    Identifier.of(named.getName())))
            : Optional.empty();
    Identifier alias =
        item.getAlias() == null
            ? table.map(Identifier::unqualified).orElse(new Identifier("#" + tables.size()))
            : Identifier.of(item.getAlias().getName());
    tables.put(alias, table);
  }

  private Optional<Selected> column(SelectItem<?> item) {
    Expression expression = item.getExpression();
    if (expression instanceof AllTableColumns all) {
      return all(Optional.ofNullable(tables.get(Identifier.of(all.getTable().getName()))));
    }
    if (expression instanceof AllColumns) {
      return tables.values().stream().allMatch(Optional::isPresent)
          ? Optional.of(new Selected(Optional.empty(), Optional.empty(), everyTable(), outer))
          : Optional.empty();
    }
    Optional<Identifier> alias =
        Optional.ofNullable(item.getAlias()).map(name -> Identifier.of(name.getName()));
    Optional<Identifier> name = alias.or(() -> name(expression));
    return name.map(
        found ->
            new Selected(name, source(expression), sources(expression), isOptional(expression)));
  }

  private boolean isOptional(Expression expression) {
    return expression instanceof Column
        ? outer
        : !(expression instanceof LongValue
            || expression instanceof StringValue
            || (expression instanceof Function call && call.getName().equalsIgnoreCase("count")));
  }

  private Optional<Selected> all(Optional<Optional<Identifier>> table) {
    return table
        .flatMap(name -> name)
        .map(name -> new Selected(Optional.empty(), Optional.empty(), List.of(name), outer));
  }

  private List<Identifier> everyTable() {
    return tables.values().stream().flatMap(Optional::stream).toList();
  }

  /**
   * The name that a column has without an alias. That of a call is PostgreSQL's
   * (https://www.postgresql.org/docs/18/queries-select-lists.html).
   */
  private static Optional<Identifier> name(Expression expression) {
    if (expression instanceof Column column) {
      return Optional.of(Identifier.of(column.getColumnName()));
    }
    if (expression instanceof CastExpression cast) {
      return name(cast.getLeftExpression());
    }
    return expression instanceof Function call
        ? Optional.of(Identifier.of(call.getName()))
        : Optional.empty();
  }

  private static Optional<Identifier> source(Expression expression) {
    return expression instanceof Column column
        ? Optional.of(Identifier.of(column.getColumnName()))
        : Optional.empty();
  }

  private List<Identifier> sources(Expression expression) {
    if (expression instanceof Column column && column.getTable() != null) {
      return Optional.ofNullable(tables.get(Identifier.of(column.getTable().getName())))
          .flatMap(name -> name)
          .map(List::of)
          .orElse(List.of());
    }
    return everyTable();
  }
}
