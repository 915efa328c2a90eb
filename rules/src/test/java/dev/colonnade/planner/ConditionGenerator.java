package dev.colonnade.planner;

import dev.colonnade.planner.TestQuery.TestCondition;
import dev.colonnade.planner.TestTable.TestColumn;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Collectors;

/** Generates conditions of every kind that a WHERE clause knows. */
final class ConditionGenerator {
  private static final List<String> RANGES = List.of(" < ", " <= ", " > ", " >= ");

  private final Random random;
  private final Abilities abilities;
  private final FurtherConditions further;

  ConditionGenerator(Random random, Abilities abilities) {
    this.random = random;
    this.abilities = abilities;
    this.further = new FurtherConditions(random, abilities);
  }

  private boolean chance(int percent) {
    return random.nextInt(100) < percent;
  }

  private <T> T pick(List<T> from) {
    return from.get(random.nextInt(from.size()));
  }

  /** A column or expression of a table with the table's name in front of the column. */
  static String qualified(TestTable table, String text) {
    int open = text.indexOf('(');
    return open < 0
        ? table.name() + "." + text
        : text.substring(0, open + 1) + table.name() + "." + text.substring(open + 1);
  }

  private static TestCondition condition(String sql, String... columns) {
    return new TestCondition(sql, List.of(columns));
  }

  private String literal(TestColumn column) {
    return abilities.literal(column.kind(), random.nextInt(column.values()));
  }

  /** A condition on a part of a key. */
  TestCondition onKey(TestTable table, TestIndex index, TestKey key, boolean equality) {
    if (key.expression()) {
      String inner = key.text().substring(key.text().indexOf('(') + 1, key.text().length() - 1);
      TestColumn column = table.column(inner);
      String left = qualified(table, key.text());
      return condition(
          equality || chance(60)
              ? left + " = " + literal(column)
              : left + pick(RANGES) + literal(column),
          inner);
    }
    TestColumn column = table.column(key.text());
    if (equality) {
      return equality(table, column);
    }
    int position = index.key().indexOf(key);
    boolean pair = position + 1 < index.key().size() && !index.key().get(position + 1).expression();
    if (pair && chance(8)) {
      Optional<TestCondition> rows =
          rows(table, column, table.column(index.key().get(position + 1).text()));
      if (rows.isPresent()) {
        return rows.get();
      }
    }
    return onColumn(table, column);
  }

  private TestCondition equality(TestTable table, TestColumn column) {
    String left = table.name() + "." + column.name();
    return condition(
        chance(90) ? left + " = " + literal(column) : literal(column) + " = " + left,
        column.name());
  }

  private Optional<TestCondition> rows(TestTable table, TestColumn one, TestColumn other) {
    String left = "(" + qualified(table, one.name()) + ", " + qualified(table, other.name()) + ")";
    if (abilities.rowComparison() && chance(60)) {
      return Optional.of(
          condition(
              left + pick(RANGES) + "(" + literal(one) + ", " + literal(other) + ")",
              one.name(),
              other.name()));
    }
    if (abilities.rowList() && (!abilities.rowListOfOneKind() || one.kind() == other.kind())) {
      String row = "(" + literal(one) + ", " + literal(other) + ")";
      String next = "(" + literal(one) + ", " + literal(other) + ")";
      return Optional.of(
          condition(left + " in (" + row + ", " + next + ")", one.name(), other.name()));
    }
    return Optional.empty();
  }

  /** A condition of any kind on a column. */
  TestCondition onColumn(TestTable table, TestColumn column) {
    String name = column.name();
    String left = table.name() + "." + name;
    if (column.kind() == ValueKind.TRUTH) {
      return truth(column, left);
    }
    int draw = random.nextInt(106);
    if (draw >= 100) {
      return further.onColumn(table, column);
    }
    if (draw < 22) {
      return equality(table, column);
    }
    if (draw < 37) {
      return condition(left + " in (" + list(column) + ")", name);
    }
    if (draw < 53) {
      return condition(left + pick(RANGES) + literal(column), name);
    }
    if (draw < 61) {
      return condition(between(column, left), name);
    }
    if (draw < 69) {
      return condition(
          left + (column.nullable() && chance(65) ? " is null" : " is not null"), name);
    }
    if (draw < 80 && column.kind() == ValueKind.TEXT) {
      return condition(left + like(), name);
    }
    if (draw < 84) {
      return condition(left + " <> " + literal(column), name);
    }
    if (draw < 88) {
      return condition(
          "(" + left + " = " + literal(column) + " or " + left + " = " + literal(column) + ")",
          name);
    }
    if (draw < 91) {
      TestColumn other = pick(table.columns());
      return condition(
          "("
              + left
              + " = "
              + literal(column)
              + " or "
              + qualified(table, other.name())
              + " = "
              + literal(other)
              + ")",
          name,
          other.name());
    }
    if (draw < 93 && abilities.nullSafe().isPresent() && column.kind() != ValueKind.DAY) {
      return condition(left + " " + abilities.nullSafe().get() + " " + literal(column), name);
    }
    if (draw < 96) {
      return condition(computed(column, left), name);
    }
    return condition(
        "(" + left + " < " + literal(column) + " or " + left + " > " + literal(column) + ")", name);
  }

  /** The rows behind a place in the order of an index, where it has two plain columns. */
  Optional<TestCondition> nextPage(TestTable table, TestIndex index) {
    return further.nextPage(table, index);
  }

  private TestCondition truth(TestColumn column, String left) {
    String sql =
        switch (random.nextInt(4)) {
          case 0 -> left;
          case 1 -> "not " + left;
          case 2 -> left + " = " + literal(column);
          default -> left + (column.nullable() && chance(60) ? " is null" : " is not null");
        };
    return condition(sql, column.name());
  }

  private String list(TestColumn column) {
    int wanted = 2 + random.nextInt(3);
    return random
        .ints(wanted, 0, column.values())
        .distinct()
        .mapToObj(n -> abilities.literal(column.kind(), n))
        .collect(Collectors.joining(", "));
  }

  private String between(TestColumn column, String left) {
    int low = random.nextInt(column.values());
    int high = low + random.nextInt(Math.max(1, column.values() / 2));
    String from = abilities.literal(column.kind(), low);
    String to = abilities.literal(column.kind(), high);
    if (column.kind() == ValueKind.TEXT && from.compareTo(to) > 0) {
      String swapped = from;
      from = to;
      to = swapped;
    }
    return switch (random.nextInt(3)) {
      case 0 -> left + " > " + from + " and " + left + " < " + to;
      case 1 -> left + " >= " + from + " and " + left + " <= " + to;
      default -> left + " between " + from + " and " + to;
    };
  }

  private String like() {
    String head = ValueKind.head(random.nextInt(7));
    return switch (random.nextInt(5)) {
      case 0 -> " like '%" + head + "'";
      case 1 -> " like '" + head + "%0%'";
      default -> " like '" + head + "%'";
    };
  }

  private String computed(TestColumn column, String left) {
    if (column.kind().isNumber()) {
      return chance(50)
          ? left + " + 1 = " + literal(column)
          : "abs(" + left + ") = " + literal(column);
    }
    return column.kind() == ValueKind.TEXT
        ? "lower(" + left + ") = " + literal(column)
        : left + " <> " + literal(column);
  }

  /** A condition that often implies the predicate of a partial index. */
  TestCondition impliedBy(TestTable table, String predicate) {
    String column = predicate.substring(0, predicate.indexOf(' '));
    if (chance(70)) {
      return condition(table.name() + "." + predicate, column);
    }
    return onColumn(table, table.column(column));
  }

  /** An equality between columns of one kind; empty where the tables have none in common. */
  Optional<TestCondition> join(TestTable one, TestTable other) {
    List<TestCondition> pairs = new ArrayList<>();
    for (TestColumn left : one.columns()) {
      for (TestColumn right : other.columns()) {
        if (left.kind() == right.kind()
            && left.kind() != ValueKind.TRUTH
            && left.collation().equals(right.collation())) {
          pairs.add(
              condition(
                  qualified(one, left.name()) + " = " + qualified(other, right.name()),
                  left.name(),
                  right.name()));
        }
      }
    }
    return pairs.isEmpty() ? Optional.empty() : Optional.of(pick(pairs));
  }
}
