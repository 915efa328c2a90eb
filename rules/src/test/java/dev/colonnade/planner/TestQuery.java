package dev.colonnade.planner;

import java.util.List;
import java.util.function.UnaryOperator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * A generated query over one or more tables.
 *
 * @param select what stands before FROM
 * @param from what stands behind FROM, WHERE included; each table with {@link #MARK} behind its
 *     name, which is its alias as well
 * @param tables the tables
 * @param below those of the tables that stand in a subquery
 * @param conditions every conjunct, wherever it stands
 * @param rest what stands behind WHERE
 * @param grouped true where rows are grouped or made distinct
 * @param sorted true with ORDER BY
 * @param firstRows true where only some rows are wanted, so that counters say little
 */
record TestQuery(
    String select,
    String from,
    List<String> tables,
    List<String> below,
    List<TestCondition> conditions,
    String rest,
    boolean grouped,
    boolean sorted,
    boolean firstRows) {
  /** Stands behind the name of a table where a hint may stand. */
  static final String MARK = "\u00a7";

  private static final Pattern MARKED = Pattern.compile("(\\w+)" + MARK);

  /** The conditions behind WHERE, or nothing. */
  static String where(List<TestCondition> conditions) {
    return conditions.isEmpty()
        ? ""
        : conditions.stream()
            .map(TestCondition::sql)
            .collect(Collectors.joining(" and ", " where ", ""));
  }

  /**
   * One conjunct.
   *
   * @param columns the columns that it names
   */
  record TestCondition(String sql, List<String> columns) {}

  /** The statement, each table with what forces the index behind it. */
  String sql(UnaryOperator<String> hint) {
    return "select " + marked(select, hint) + " from " + marked(from, hint) + rest;
  }

  private static String marked(String text, UnaryOperator<String> hint) {
    return MARKED
        .matcher(text)
        .replaceAll(it -> Matcher.quoteReplacement(it.group(1) + hint.apply(it.group(1))));
  }

  /** The statement without hints. */
  String sql() {
    return sql(table -> "");
  }

  /** True where the query asks for an order or for groups, and not for both. */
  boolean asksOneOrder() {
    return grouped != sorted;
  }
}
