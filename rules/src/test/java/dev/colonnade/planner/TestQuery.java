package dev.colonnade.planner;

import java.util.List;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;

/**
 * A generated query over one or more tables.
 *
 * @param select what stands before FROM
 * @param tables the tables, inner joined; the alias of a table is its name
 * @param conditions what stands in WHERE, one conjunct each
 * @param rest what stands behind WHERE
 * @param grouped true where rows are grouped or made distinct
 * @param sorted true with ORDER BY
 * @param firstRows true where only some rows are wanted, so that counters say little
 */
record TestQuery(
    String select,
    List<String> tables,
    List<TestCondition> conditions,
    String rest,
    boolean grouped,
    boolean sorted,
    boolean firstRows) {

  /**
   * One conjunct.
   *
   * @param columns the columns that it names
   */
  record TestCondition(String sql, List<String> columns) {}

  /** The statement, each table with what forces the index behind it. */
  String sql(UnaryOperator<String> hint) {
    String where =
        conditions.isEmpty()
            ? ""
            : conditions.stream()
                .map(TestCondition::sql)
                .collect(Collectors.joining(" and ", " where ", ""));
    return "select "
        + select
        + " from "
        + tables.stream().map(it -> it + hint.apply(it)).collect(Collectors.joining(", "))
        + where
        + rest;
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
