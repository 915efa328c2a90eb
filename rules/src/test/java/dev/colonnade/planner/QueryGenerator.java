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
import java.util.Optional;
import java.util.Random;
import java.util.Set;

/** Generates queries that have something to do with an index, most of the time. */
final class QueryGenerator {
  /** Percentage of tables that stand in a derived table. */
  private static final int DERIVED = 6;

  private final Random random;
  private final Abilities abilities;
  private final ConditionGenerator conditions;

  QueryGenerator(Random random, Abilities abilities) {
    this.random = random;
    this.abilities = abilities;
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
    boolean derived = chance(DERIVED);
    JoinText text = new JoinText(table.name(), derived ? where(table, index) : List.of(), derived);
    text.where(derived && chance(50) ? List.of() : where(table, index));
    return finish(text, table, index);
  }

  /**
   * A join of two or three tables on columns of one kind: inner and outer joins, and subqueries
   * under EXISTS, NOT EXISTS and IN, each table with conditions of its own.
   */
  TestQuery join(List<TestTable> tables) {
    TestTable main = tables.get(0);
    TestIndex index = pick(main.indexes());
    boolean derived = chance(DERIVED);
    JoinText text = new JoinText(main.name(), derived ? where(main, index) : List.of(), derived);
    List<TestTable> joined = new ArrayList<>(List.of(main));
    for (TestTable next : tables.subList(1, tables.size())) {
      TestTable partner = pick(joined);
      Optional<TestCondition> pair = conditions.join(partner, next);
      if (pair.isEmpty()) {
        continue;
      }
      List<TestCondition> own =
          chance(60) ? where(next, pick(next.indexes())) : new ArrayList<>(List.of());
      int draw = random.nextInt(115);
      if (draw >= 108) {
        text.derived(next.name(), pair.get(), own, chance(40));
        joined.add(next);
      } else if (draw >= 104) {
        text.beside(next.name(), pair.get(), own);
        joined.add(next);
      } else if (draw >= 100) {
        text.selected(next.name(), pair.get(), own, pick(plain(next, index(next))).name());
      } else if (draw < 50) {
        text.inner(next.name(), pair.get(), own);
        joined.add(next);
      } else if (draw < 70) {
        text.outer(next.name(), pair.get(), own);
        joined.add(next);
      } else if (draw < 88) {
        text.exists(next.name(), pair.get(), own, draw >= 80);
      } else {
        List<String> sides = List.of(pair.get().sql().split(" = ", 2));
        boolean first = sides.get(0).startsWith(partner.name() + ".");
        text.in(next.name(), sides.get(first ? 0 : 1), sides.get(first ? 1 : 0), own, pair.get());
      }
    }
    if (chance(60)) {
      text.where(where(main, index));
    }
    return finish(text, main, index);
  }

  private TestIndex index(TestTable table) {
    return pick(table.indexes());
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
    if (chance(4)) {
      conditions.nextPage(table, index).ifPresent(where::add);
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

  private TestQuery finish(JoinText text, TestTable main, TestIndex index) {
    List<TestCondition> where = text.conditions();
    int draw = random.nextInt(100);
    if (draw < 8) {
      return text.query("count(*)", "", false, false, false);
    }
    if (draw < 14) {
      String column = main.name() + "." + pick(plain(main, index)).name();
      String select =
          chance(50)
              ? "min(" + column + ")"
              : chance(80) ? "max(" + column + ")" : "min(" + column + "), max(" + column + ")";
      return text.query(select, "", false, false, true);
    }
    if (draw < 22) {
      String columns = String.join(", ", groupColumns(main, index));
      String having = chance(20) ? " having count(*) > 1" : "";
      return text.query(
          columns + ", count(*)", " group by " + columns + having, true, false, false);
    }
    if (draw < 28) {
      String columns = String.join(", ", groupColumns(main, index));
      return text.query("distinct " + columns, "", true, false, false);
    }
    boolean sorted = chance(50);
    boolean limited = chance(15);
    String rest =
        (sorted ? " order by " + order(main, index, where) : "")
            + (limited ? " " + limit(1 + random.nextInt(20)) : "");
    return text.query(select(main, index), rest, false, sorted, limited);
  }

  private String limit(int rows) {
    return String.format(Locale.ROOT, chance(25) ? abilities.offset() : abilities.limit(), rows);
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
      String nulls = abilities.nullsOrder() && chance(5) ? " nulls " : "";
      terms.add(
          ConditionGenerator.qualified(table, part.text())
              + (descending ? " desc" : "")
              + (nulls.isEmpty() ? "" : nulls + (chance(50) ? "first" : "last")));
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
      if (seen.add(term.replaceAll(" desc| nulls \\w+", ""))) {
        once.add(term);
      }
    }
    return String.join(", ", once);
  }
}
