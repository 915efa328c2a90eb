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

  JoinText(String first) {
    from = new StringBuilder(first).append(TestQuery.MARK);
    tables.add(first);
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
    return new TestQuery(
        select,
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
