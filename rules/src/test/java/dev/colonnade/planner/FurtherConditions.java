package dev.colonnade.planner;

import dev.colonnade.planner.TestQuery.TestCondition;
import dev.colonnade.planner.TestTable.TestColumn;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/**
 * Generates conditions that seldom bound a scan, or bound it by what they come to: negations, two
 * columns of one table, values computed from a column, and the next page of a listing written out
 * as an OR.
 */
final class FurtherConditions {
  private final Random random;
  private final Abilities abilities;

  FurtherConditions(Random random, Abilities abilities) {
    this.random = random;
    this.abilities = abilities;
  }

  private String literal(TestColumn column) {
    return abilities.literal(column.kind(), random.nextInt(column.values()));
  }

  /** A condition on a column that is no truth value. */
  TestCondition onColumn(TestTable table, TestColumn column) {
    String left = table.name() + "." + column.name();
    List<String> one = List.of(column.name());
    return switch (random.nextInt(7)) {
      case 0 ->
          new TestCondition(
              left + " not in (" + literal(column) + ", " + literal(column) + ")", one);
      case 1 ->
          new TestCondition(
              left + " not between " + literal(column) + " and " + literal(column), one);
      case 2 -> new TestCondition("not (" + left + " > " + literal(column) + ")", one);
      case 3 ->
          new TestCondition(
              "coalesce(" + left + ", " + literal(column) + ") = " + literal(column), one);
      case 4 ->
          new TestCondition(
              column.kind() == ValueKind.TEXT
                  ? left + " not like '" + ValueKind.head(random.nextInt(7)) + "%'"
                  : "(" + left + " is null or " + left + " = " + literal(column) + ")",
              one);
      case 5 -> columns(table, column, " = ").orElseGet(() -> not(left, column));
      default -> columns(table, column, " < ").orElseGet(() -> not(left, column));
    };
  }

  private TestCondition not(String left, TestColumn column) {
    return new TestCondition(
        "not (" + left + " = " + literal(column) + ")", List.of(column.name()));
  }

  private Optional<TestCondition> columns(TestTable table, TestColumn column, String operator) {
    return table.columns().stream()
        .filter(it -> it.kind() == column.kind() && !it.name().equals(column.name()))
        .filter(it -> it.collation().equals(column.collation()))
        .findFirst()
        .map(
            it ->
                new TestCondition(
                    table.name() + "." + column.name() + operator + table.name() + "." + it.name(),
                    List.of(column.name(), it.name())));
  }

  /** The rows behind a place in the order of two key columns, as an OR, in one of two wordings. */
  Optional<TestCondition> nextPage(TestTable table, TestIndex index) {
    List<TestColumn> columns = new ArrayList<>();
    index.key().stream()
        .filter(part -> !part.expression())
        .map(TestKey::text)
        .map(table::column)
        .filter(column -> column.kind() != ValueKind.TRUTH)
        .limit(2)
        .forEach(columns::add);
    if (columns.size() < 2) {
      return Optional.empty();
    }
    String one = table.name() + "." + columns.get(0).name();
    String other = table.name() + "." + columns.get(1).name();
    String from = literal(columns.get(0));
    String behind = other + " > " + literal(columns.get(1));
    String sql =
        random.nextBoolean()
            ? "(" + one + " > " + from + " or (" + one + " = " + from + " and " + behind + "))"
            : one + " >= " + from + " and (" + one + " > " + from + " or " + behind + ")";
    return Optional.of(
        new TestCondition(sql, List.of(columns.get(0).name(), columns.get(1).name())));
  }
}
