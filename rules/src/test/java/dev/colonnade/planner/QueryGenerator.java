package dev.colonnade.planner;

import dev.colonnade.planner.TestQuery.TestCondition;
import dev.colonnade.planner.TestTable.TestColumn;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.Set;

/** Generates queries that have something to do with an index, most of the time. */
final class QueryGenerator {
  private final Random random;
  private final String limit;
  private final ConditionGenerator conditions;

  QueryGenerator(Random random, Abilities abilities) {
    this.random = random;
    this.limit = abilities.limit();
    this.conditions = new ConditionGenerator(random, abilities);
  }

  private boolean chance(int percent) {
    return random.nextInt(100) < percent;
  }

  private <T> T pick(List<T> from) {
    return from.get(random.nextInt(from.size()));
  }

  /** A query of one table, made with one of its indexes in mind. */
  TestQuery single(TestTable table) {
    TestIndex index = pick(table.indexes());
    List<TestCondition> where = where(table, index);
    return finish(List.of(table), table, index, where);
  }

  /** A join of two or three tables on columns of one kind, each with conditions of its own. */
  TestQuery join(List<TestTable> tables) {
    TestTable main = tables.get(0);
    TestIndex index = pick(main.indexes());
    List<TestCondition> where = new ArrayList<>();
    for (int i = 1; i < tables.size(); i++) {
      conditions.join(tables.get(random.nextInt(i)), tables.get(i)).ifPresent(where::add);
      if (chance(60)) {
        where.addAll(where(tables.get(i), pick(tables.get(i).indexes())));
      }
    }
    if (chance(60)) {
      where.addAll(where(main, index));
    }
    return finish(tables, main, index, where);
  }

  private List<TestCondition> where(TestTable table, TestIndex index) {
    List<TestCondition> where = new ArrayList<>();
    boolean points = true;
    for (TestKey key : index.key()) {
      if (chance(points ? 72 : 40)) {
        TestCondition condition = conditions.onKey(table, index, key, points && chance(55));
        where.add(condition);
        points &= condition.sql().contains(" = ");
      }
    }
    while (chance(30)) {
      where.add(conditions.onColumn(table, pick(table.columns())));
    }
    index
        .predicate()
        .filter(it -> chance(70))
        .ifPresent(it -> where.add(conditions.impliedBy(table, it)));
    Collections.shuffle(where, random);
    Set<List<String>> fixed = new HashSet<>();
    where.removeIf(
        it -> it.sql().contains(" = ") && it.columns().size() == 1 && !fixed.add(it.columns()));
    return where;
  }

  private TestQuery finish(
      List<TestTable> tables, TestTable main, TestIndex index, List<TestCondition> where) {
    List<String> names = tables.stream().map(TestTable::name).toList();
    int draw = random.nextInt(100);
    if (draw < 8) {
      return new TestQuery("count(*)", names, where, "", false, false, false);
    }
    if (draw < 14) {
      String column = main.name() + "." + pick(plain(main, index)).name();
      String select =
          chance(50)
              ? "min(" + column + ")"
              : chance(80) ? "max(" + column + ")" : "min(" + column + "), max(" + column + ")";
      return new TestQuery(select, names, where, "", false, false, true);
    }
    if (draw < 22) {
      String columns = String.join(", ", groupColumns(main, index));
      return new TestQuery(
          columns + ", count(*)", names, where, " group by " + columns, true, false, false);
    }
    if (draw < 28) {
      String columns = String.join(", ", groupColumns(main, index));
      return new TestQuery("distinct " + columns, names, where, "", true, false, false);
    }
    boolean sorted = chance(50);
    boolean limited = chance(15);
    String rest =
        (sorted ? " order by " + order(main, index, where) : "")
            + (limited ? " " + String.format(Locale.ROOT, limit, 1 + random.nextInt(20)) : "");
    return new TestQuery(select(main, index), names, where, rest, false, sorted, limited);
  }

  private List<TestColumn> plain(TestTable table, TestIndex index) {
    List<TestColumn> columns = new ArrayList<>();
    for (TestKey key : index.key()) {
      if (!key.expression() && table.column(key.text()).kind() != ValueKind.TRUTH) {
        columns.add(table.column(key.text()));
      }
    }
    if (columns.isEmpty()) {
      columns.add(table.column("id"));
    }
    return columns;
  }

  private List<String> groupColumns(TestTable table, TestIndex index) {
    List<TestColumn> from = plain(table, index);
    int start = chance(70) ? 0 : random.nextInt(from.size());
    int end = Math.min(from.size(), start + 1 + random.nextInt(2));
    return from.subList(start, end).stream().map(it -> table.name() + "." + it.name()).toList();
  }

  private String select(TestTable table, TestIndex index) {
    if (chance(30)) {
      return table.name() + ".*";
    }
    List<TestColumn> from = new ArrayList<>(plain(table, index));
    index.included().forEach(it -> from.add(table.column(it)));
    if (chance(30)) {
      from.add(pick(table.columns()));
    }
    if (chance(15)) {
      from.add(table.column("id"));
    }
    Set<String> columns = new LinkedHashSet<>();
    int wanted = 1 + random.nextInt(3);
    for (int i = 0; i < wanted; i++) {
      columns.add(table.name() + "." + pick(from).name());
    }
    return String.join(", ", columns);
  }

  private String order(TestTable table, TestIndex index, List<TestCondition> where) {
    List<String> terms = new ArrayList<>();
    List<TestKey> key = index.key();
    int start = chance(55) ? 0 : random.nextInt(key.size());
    int end = Math.min(key.size(), start + 1 + random.nextInt(3));
    boolean reversed = chance(30);
    for (TestKey part : key.subList(start, end)) {
      boolean descending = (part.descending() != reversed) != chance(10);
      terms.add(ConditionGenerator.qualified(table, part.text()) + (descending ? " desc" : ""));
    }
    if (chance(12)) {
      terms.add(table.name() + "." + pick(table.columns()).name());
    }
    if (chance(8)) {
      Collections.shuffle(terms, random);
    }
    if (where.isEmpty() && chance(10)) {
      terms.add(table.name() + ".id");
    }
    Set<String> once = new LinkedHashSet<>();
    Set<String> seen = new LinkedHashSet<>();
    for (String term : terms) {
      if (seen.add(term.replace(" desc", ""))) {
        once.add(term);
      }
    }
    return String.join(", ", once);
  }
}
