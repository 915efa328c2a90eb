package dev.colonnade.planner;

import dev.colonnade.planner.TestQuery.TestCondition;
import java.util.ArrayList;
import java.util.List;

/** Collects FROM and WHERE of a generated query. */
final class JoinText {
  private final StringBuilder from;
  private final List<String> tables = new ArrayList<>();
  private final List<String> below = new ArrayList<>();
  private final List<TestCondition> where = new ArrayList<>();
  private final List<TestCondition> elsewhere = new ArrayList<>();
  private final List<String> selected = new ArrayList<>();

  /** The text begins with a table, or with a derived table of that name over some of its rows. */
  JoinText(String first, List<TestCondition> own, boolean derived) {
    from = new StringBuilder(derived ? rowsOf(first, own) : first + TestQuery.MARK);
    tables.add(first);
    elsewhere.addAll(own);
  }

  private static String rowsOf(String table, List<TestCondition> own) {
    return "(select * from " + table + TestQuery.MARK + TestQuery.where(own) + ") " + table;
  }

  void where(List<TestCondition> conditions) {
    where.addAll(conditions);
  }

  void inner(String table, TestCondition pair, List<TestCondition> own) {
    from.append(" inner join ").append(table).append(TestQuery.MARK).append(" on ");
    from.append(pair.sql());
    tables.add(table);
    elsewhere.add(pair);
    where.addAll(own);
  }

  /** A derived table in place of the table, under its name. */
  void derived(String table, TestCondition pair, List<TestCondition> own, boolean outer) {
    from.append(outer ? " left join " : " inner join ").append(rowsOf(table, own));
    from.append(" on ").append(pair.sql());
    tables.add(table);
    elsewhere.addAll(with(pair, own));
  }

  /** Side by side in FROM, the tables are joined in WHERE. */
  void beside(String table, TestCondition pair, List<TestCondition> own) {
    from.append(" cross join ").append(table).append(TestQuery.MARK);
    tables.add(table);
    where.add(pair);
    where.addAll(own);
  }

  /** A subquery that yields a value: in the select list, or tested where rows are counted. */
  void selected(String table, TestCondition pair, List<TestCondition> own, String column) {
    subquery(table, pair, own);
    selected.add(
        "(select max("
            + table
            + "."
            + column
            + ") from "
            + table
            + TestQuery.MARK
            + TestQuery.where(with(pair, own))
            + ")");
  }

  /** Conditions of the inner table stand in ON: in WHERE they would make the join an inner one. */
  void outer(String table, TestCondition pair, List<TestCondition> own) {
    from.append(" left join ").append(table).append(TestQuery.MARK).append(" on ");
    from.append(TestQuery.where(with(pair, own)).substring(" where ".length()));
    tables.add(table);
    elsewhere.addAll(with(pair, own));
  }

  void exists(String table, TestCondition pair, List<TestCondition> own, boolean negated) {
    subquery(table, pair, own);
    String text =
        (negated ? "not exists" : "exists")
            + " (select 1 from "
            + table
            + TestQuery.MARK
            + TestQuery.where(with(pair, own))
            + ")";
    where.add(new TestCondition(text, List.of()));
  }

  void in(String table, String outer, String inner, List<TestCondition> own, TestCondition pair) {
    subquery(table, pair, own);
    String text =
        outer + " in (select " + inner + " from " + table + TestQuery.MARK + TestQuery.where(own);
    where.add(new TestCondition(text + ")", List.of()));
  }

  private void subquery(String table, TestCondition pair, List<TestCondition> own) {
    tables.add(table);
    below.add(table);
    elsewhere.addAll(with(pair, own));
  }

  private static List<TestCondition> with(TestCondition pair, List<TestCondition> own) {
    List<TestCondition> all = new ArrayList<>(List.of(pair));
    all.addAll(own);
    return all;
  }

  /** Every plain condition, wherever it stands. */
  List<TestCondition> conditions() {
    List<TestCondition> all = new ArrayList<>(elsewhere);
    where.stream().filter(it -> !it.sql().contains(TestQuery.MARK)).forEach(all::add);
    return all;
  }

  TestQuery query(String select, String rest, boolean grouped, boolean sorted, boolean firstRows) {
    boolean counted = grouped || select.contains("(");
    if (counted) {
      selected.forEach(it -> where.add(new TestCondition(it + " is not null", List.of())));
    }
    return new TestQuery(
        counted || selected.isEmpty() ? select : select + ", " + String.join(", ", selected),
        from + TestQuery.where(where),
        List.copyOf(tables),
        List.copyOf(below),
        conditions(),
        rest,
        grouped,
        sorted,
        firstRows);
  }
}
