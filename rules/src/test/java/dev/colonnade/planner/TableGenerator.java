package dev.colonnade.planner;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.IndexFeatures.Partial;
import dev.colonnade.planner.TestTable.TestColumn;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/** Generates tables of 3 to 8 columns with rows and 1 to 5 indexes of 1 to 4 columns. */
final class TableGenerator {
  private static final int[] DISTINCT = {2, 4, 9, 25, 70};

  private final Random random;
  private final Dialect dialect;
  private final Abilities abilities;

  TableGenerator(Random random, Dialect dialect, Abilities abilities) {
    this.random = random;
    this.dialect = dialect;
    this.abilities = abilities;
  }

  TestTable table(String name) {
    return table(name, 240 + random.nextInt(160));
  }

  /** A table for joins: some databases run a query when asked, and three tables multiply. */
  TestTable joined(String name) {
    return table(name, 100 + random.nextInt(40));
  }

  private TestTable table(String name, int rowCount) {
    List<TestColumn> columns = new ArrayList<>();
    columns.add(new TestColumn("id", ValueKind.INTEGER, false, rowCount, Optional.empty()));
    int more = 2 + random.nextInt(6);
    for (int i = 0; i < more; i++) {
      columns.add(column(String.valueOf((char) ('a' + i)), i == 0 && chance(30), rowCount));
    }
    List<Integer[]> rows = rows(columns, rowCount);
    List<String> primaryKey = primaryKey(columns);
    List<TestIndex> indexes = new ArrayList<>();
    int wanted = 1 + random.nextInt(5);
    for (int i = 0; i < wanted || indexes.isEmpty(); i++) {
      TestIndex index = index(name, "ix_" + name + "_" + (i + 1), columns, rowCount);
      boolean repeated =
          index.keyTexts().equals(primaryKey)
              || indexes.stream().anyMatch(it -> it.keyTexts().equals(index.keyTexts()));
      if (!repeated) {
        indexes.add(index);
      }
    }
    return new TestTable(name, columns, primaryKey, rows, indexes);
  }

  private boolean chance(int percent) {
    return random.nextInt(100) < percent;
  }

  private <T> T pick(List<T> from) {
    return from.get(random.nextInt(from.size()));
  }

  private TestColumn column(String name, boolean serial, int rowCount) {
    List<ValueKind> kinds = new ArrayList<>(List.of(ValueKind.values()));
    kinds.add(ValueKind.INTEGER);
    kinds.add(ValueKind.TEXT);
    if (!abilities.truth() || serial) {
      kinds.remove(ValueKind.TRUTH);
    }
    ValueKind kind = pick(kinds);
    int values = serial ? rowCount : DISTINCT[random.nextInt(DISTINCT.length)];
    if (kind == ValueKind.TRUTH) {
      values = 2;
    }
    boolean collated = kind == ValueKind.TEXT && abilities.prefixCollation().isPresent();
    return new TestColumn(
        name,
        kind,
        !serial && chance(55),
        values,
        collated && chance(50) ? abilities.prefixCollation() : Optional.empty());
  }

  private List<Integer[]> rows(List<TestColumn> columns, int rowCount) {
    List<Integer[]> rows = new ArrayList<>();
    for (int i = 0; i < rowCount; i++) {
      rows.add(new Integer[columns.size()]);
    }
    for (int c = 0; c < columns.size(); c++) {
      TestColumn column = columns.get(c);
      List<Integer> serial = new ArrayList<>();
      for (int i = 0; i < rowCount; i++) {
        serial.add(i);
      }
      Collections.shuffle(serial, random);
      for (int i = 0; i < rowCount; i++) {
        boolean isNull = column.nullable() && chance(15);
        rows.get(i)[c] =
            isNull
                ? null
                : Integer.valueOf(
                    column.values() == rowCount ? serial.get(i) : random.nextInt(column.values()));
      }
    }
    return rows;
  }

  private List<String> primaryKey(List<TestColumn> columns) {
    int draw = random.nextInt(10);
    if (draw == 0) {
      return List.of();
    }
    List<TestColumn> others =
        columns.stream().filter(it -> !it.nullable() && !it.name().equals("id")).toList();
    return draw < 8 || others.isEmpty() ? List.of("id") : List.of(pick(others).name(), "id");
  }

  private TestIndex index(String table, String name, List<TestColumn> columns, int rowCount) {
    List<TestColumn> shuffled = new ArrayList<>(columns);
    Collections.shuffle(shuffled, random);
    int size = Math.min(1 + random.nextInt(4), shuffled.size());
    List<TestColumn> chosen = shuffled.subList(0, size);
    List<TestKey> key = new ArrayList<>();
    chosen.forEach(column -> key.add(key(column)));
    boolean unique =
        chance(50)
            && key.stream().noneMatch(TestKey::expression)
            && chosen.stream().anyMatch(it -> it.values() == rowCount);
    List<String> included = new ArrayList<>();
    boolean mayInclude = abilities.includedOnAny() || (unique && abilities.includedOnUnique());
    if (mayInclude && chance(30)) {
      shuffled.stream().skip(size).limit(2).forEach(it -> included.add(it.name()));
    }
    boolean partial = dialect.features().partial().value() != Partial.NONE && chance(20);
    return new TestIndex(
        name,
        table,
        unique,
        key,
        included,
        partial ? Optional.of(predicate(pick(columns))) : Optional.empty());
  }

  private TestKey key(TestColumn column) {
    boolean descending = dialect.features().descending().value() && chance(20);
    if (dialect.features().expressions().value() && chance(12)) {
      Optional<String> expression = expression(column);
      if (expression.isPresent()) {
        return new TestKey(expression.get(), true, descending, Optional.empty());
      }
    }
    boolean classed =
        column.kind() == ValueKind.TEXT
            && abilities.prefixOperatorClass().isPresent()
            && chance(25);
    return new TestKey(
        column.name(),
        false,
        descending,
        classed ? abilities.prefixOperatorClass() : Optional.empty());
  }

  private static Optional<String> expression(TestColumn column) {
    return switch (column.kind()) {
      case INTEGER, BIG, DECIMAL -> Optional.of("abs(" + column.name() + ")");
      case TEXT -> Optional.of("lower(" + column.name() + ")");
      case DAY, TRUTH -> Optional.empty();
    };
  }

  private String predicate(TestColumn column) {
    String literal = abilities.literal(column.kind(), random.nextInt(column.values()));
    return switch (random.nextInt(4)) {
      case 0 -> column.name() + (column.nullable() ? " is not null" : " <> " + literal);
      case 1 -> column.name() + " = " + literal;
      case 2 -> column.name() + " > " + literal;
      default -> column.name() + " <= " + literal;
    };
  }
}
