package dev.colonnade.counter;

import java.util.List;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;

/**
 * A generated query.
 *
 * @param select what it selects
 * @param tables the tables in the order of the text, none of them twice
 * @param rest conditions, order and limit
 */
record CountedQuery(String select, List<String> tables, String rest) {
  String sql() {
    return sql(table -> "");
  }

  /** The text with something behind each table's name. */
  String sql(UnaryOperator<String> behind) {
    return "select " + select + " from " + from(tables, behind) + rest;
  }

  /** The text with the tables in another order, which MariaDB keeps. */
  String straight(List<String> order, UnaryOperator<String> behind) {
    return "select straight_join " + select + " from " + from(order, behind) + rest;
  }

  private static String from(List<String> tables, UnaryOperator<String> behind) {
    return tables.stream()
        .map(table -> table + behind.apply(table))
        .collect(Collectors.joining(", "));
  }
}
