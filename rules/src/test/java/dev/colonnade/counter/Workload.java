package dev.colonnade.counter;

import dev.colonnade.schema.TypeFamily;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;

/** Generates queries whose constants are taken from the data. */
final class Workload {
  private final Random random;

  Workload(Random random) {
    this.random = random;
  }

  /** Conditions on the leading columns of an index. */
  CountedQuery onIndex(DataTable table, List<String> key) {
    List<String> conditions = conditions(table, key);
    return new CountedQuery(
        "max(" + other(table, key) + ")",
        List.of(table.name()),
        " where " + String.join(" and ", conditions));
  }

  /** Conditions on two indexes of one table. */
  CountedQuery onTwoIndexes(DataTable table, List<String> one, List<String> other) {
    List<String> conditions = new ArrayList<>(conditions(table, one));
    for (String condition : conditions(table, other)) {
      String column = condition.substring(0, condition.indexOf(' '));
      if (conditions.stream().noneMatch(it -> it.startsWith(column + " "))) {
        conditions.add(condition);
      }
    }
    return new CountedQuery(
        "max(" + other(table, one) + ")",
        List.of(table.name()),
        " where " + String.join(" and ", conditions));
  }

  /** Tables joined by the given conditions, one of them restricted. */
  CountedQuery join(List<DataTable> tables, List<String> joins) {
    DataTable restricted = pick(tables.stream().filter(it -> !it.keys().isEmpty()).toList());
    List<String> conditions = new ArrayList<>(joins);
    conditions.addAll(conditions(restricted, pick(restricted.keys())));
    DataTable last = tables.get(tables.size() - 1);
    return new CountedQuery(
        "max(" + last.columns().get(last.columns().size() - 1).name() + ")",
        tables.stream().map(DataTable::name).toList(),
        " where " + String.join(" and ", conditions));
  }

  private List<String> conditions(DataTable table, List<String> key) {
    List<String> conditions = new ArrayList<>();
    int equalities = random.nextInt(key.size() + 1);
    Object[] row = pick(table.rows());
    for (String column : key.subList(0, equalities)) {
      conditions.add(qualified(table, equality(table, column, row[table.position(column)])));
    }
    if (equalities < key.size()) {
      String column = key.get(equalities);
      conditions.add(qualified(table, range(table, column, row[table.position(column)])));
    }
    if (random.nextInt(8) == 0 && key.size() > 2 && equalities == 2) {
      conditions.remove(1);
    }
    return conditions;
  }

  private static String qualified(DataTable table, String condition) {
    return table.name() + "." + condition;
  }

  private String equality(DataTable table, String column, Object value) {
    if (value == null) {
      return column + " is null";
    }
    if (random.nextInt(5) > 0) {
      return column + " = " + literal(value);
    }
    Set<String> values = new LinkedHashSet<>(List.of(literal(value)));
    for (int i = 1 + random.nextInt(4); i > 0; i--) {
      Object further = pick(table.rows())[table.position(column)];
      if (further != null) {
        values.add(literal(further));
      }
    }
    return column + " in (" + String.join(", ", values) + ")";
  }

  private String range(DataTable table, String column, Object value) {
    if (value == null) {
      return column + " is null";
    }
    String text = value.toString();
    if (table.column(column).family() == TypeFamily.TEXT
        && random.nextBoolean()
        && text.matches("\\w{3,}.*")) {
      return column + " like '" + text.substring(0, 1 + random.nextInt(3)) + "%'";
    }
    Object end = pick(table.rows())[table.position(column)];
    return switch (end == null ? 0 : random.nextInt(5)) {
      case 0 -> column + " > " + literal(value);
      case 1 -> column + " <= " + literal(value);
      default -> {
        String one = literal(value);
        String other = literal(end);
        boolean turned = compare(value, end) > 0;
        yield column + " between " + (turned ? other : one) + " and " + (turned ? one : other);
      }
    };
  }

  @SuppressWarnings({"unchecked", "rawtypes"}) // values of one column are of one comparable type
  private static int compare(Object left, Object right) {
    return ((Comparable) left).compareTo(right);
  }

  private static String literal(Object value) {
    if (value instanceof BigDecimal number) {
      return number.toPlainString();
    }
    return value instanceof String || value instanceof LocalDate
        ? "'" + value.toString().replace("'", "''") + "'"
        : value.toString();
  }

  /** A column outside the index, so that the rows are visited. */
  private static String other(DataTable table, List<String> key) {
    return table.columns().stream()
        .map(DataTable.DataColumn::name)
        .filter(it -> !key.contains(it) && !table.primaryKey().contains(it))
        .reduce((first, second) -> second)
        .orElseThrow();
  }

  private <T> T pick(List<T> list) {
    return list.get(random.nextInt(list.size()));
  }
}
