package dev.colonnade.query.jpql;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.NullRejection;
import dev.colonnade.query.OrderItem;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/** What two statements have in common when they read and compare the same, in text. */
final class QueryShape {
  private final Map<Integer, String> tables = new HashMap<>();

  private QueryShape() {}

  /** The tables of each block with their join kinds alone. */
  static List<String> tablesOf(Query query) {
    return of(query).stream().map(line -> line.substring(0, line.indexOf(" where "))).toList();
  }

  /** One line for each block: tables with join kinds, conditions, grouping, order, columns. */
  static List<String> of(Query query) {
    QueryShape shape = new QueryShape();
    for (QueryBlock block : query.blocks()) {
      for (FromItem item : block.from()) {
        shape.tables.put(
            item.use(), item instanceof FromItem.TableUse table ? table.table().folded() : "rows");
      }
    }
    List<String> lines = new ArrayList<>();
    query.blocks().forEach(block -> lines.add(shape.line(block)));
    return lines.stream().sorted().toList();
  }

  private String line(QueryBlock block) {
    TreeSet<String> from = new TreeSet<>();
    int count = 0;
    Set<Integer> outer = outer(block);
    for (FromItem item : block.from()) {
      from.add(tables.get(item.use()) + (outer.contains(item.use()) ? " outer" : ""));
      count++;
    }
    TreeSet<String> conditions = new TreeSet<>();
    for (Conjunct conjunct : block.conjuncts()) {
      conditions.add(condition(conjunct.predicate()));
    }
    TreeSet<String> columns = new TreeSet<>();
    block.columns().forEach(column -> columns.add(column(column)));
    List<String> order = new ArrayList<>();
    for (OrderItem item : block.orderBy()) {
      order.add(expression(item.expression()) + (item.descending() ? " desc" : ""));
    }
    // H2 is given common table expressions as derived tables: the same to who reads them.
    BlockRole role =
        block.role() == BlockRole.COMMON_TABLE_EXPRESSION ? BlockRole.DERIVED_TABLE : block.role();
    return role
        + " from "
        + count
        + from
        + " where "
        + conditions
        + " group "
        + block.groupBy().stream().map(this::expression).sorted().toList()
        + " order "
        + order
        + (block.distinct() ? " distinct" : "")
        + (block.limit().isPresent() ? " limited" : "")
        + " columns "
        + columns;
  }

  /**
   * The uses that rows of NULLs may stand for in the result. H2 itself keeps an outer join whose
   * rows of NULLs a condition drops again, so that the same query in two spellings differs there.
   */
  private static Set<Integer> outer(QueryBlock block) {
    Set<Integer> outer = new HashSet<>();
    block.from().stream().filter(FromItem::nullSupplied).forEach(item -> outer.add(item.use()));
    boolean found = true;
    while (found) {
      found = false;
      for (Conjunct conjunct : block.conjuncts()) {
        found |=
            Collections.disjoint(conjunct.restricts(), outer)
                && outer.removeAll(NullRejection.rejectedBy(conjunct.predicate()));
      }
    }
    return outer;
  }

  private String condition(Predicate predicate) {
    if (predicate instanceof Predicate.Comparison comparison) {
      String left = expression(comparison.left());
      String right = expression(comparison.right());
      boolean turn = comparison.operator().sign().equals("=") && left.compareTo(right) > 0;
      return (turn ? right : left)
          + " "
          + comparison.operator().sign()
          + " "
          + (turn ? left : right);
    }
    if (predicate instanceof Predicate.TruthTest test
        && test.operand() instanceof Expression.ColumnRef column) {
      return column(column) + " = " + test.expected() + "[]";
    }
    if (predicate instanceof Predicate.And and) {
      return and.parts().stream().map(this::condition).sorted().toList().toString();
    }
    if (predicate instanceof Predicate.Or or) {
      return "any " + or.parts().stream().map(this::condition).sorted().toList();
    }
    return unaliased(predicate.render())
        + " of "
        + new TreeSet<>(predicate.columns().stream().map(this::column).toList());
  }

  private static String unaliased(String sql) {
    return sql.replaceAll("\\b(ALL|ANY)\\(SELECT .*\\)", "$1(subquery)")
        .replaceAll("^\\(SELECT .*?\\) (?=[<>=])", "(subquery) ")
        .replaceAll("\\b[A-Za-z_]\\w*\\.(?=[A-Za-z_])", "");
  }

  private String expression(Expression expression) {
    return expression instanceof Expression.ColumnRef column
        ? column(column)
        : unaliased(expression.render())
            + new TreeSet<>(expression.columns().stream().map(this::column).toList());
  }

  private String column(Expression.ColumnRef column) {
    return tables.getOrDefault(column.use(), "?") + "." + column.column().folded();
  }
}
