package dev.colonnade.planner;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * A generated table with its rows and the indexes to be tried on it.
 *
 * @param rows numbers of the values by column; null for NULL
 */
record TestTable(
    String name,
    List<TestColumn> columns,
    List<String> primaryKey,
    List<Integer[]> rows,
    List<TestIndex> indexes) {

  /**
   * A column.
   *
   * @param values number of different values
   * @param collation collation other than the default
   */
  record TestColumn(
      String name, ValueKind kind, boolean nullable, int values, Optional<String> collation) {
    String ddl() {
      return name
          + " "
          + kind.type()
          + collation.map(it -> " collate " + it).orElse("")
          + (nullable ? "" : " not null");
    }
  }

  /**
   * One part of a key.
   *
   * @param text column name or expression
   * @param operatorClass operator class, where the database has such
   */
  record TestKey(
      String text, boolean expression, boolean descending, Optional<String> operatorClass) {
    String ddl() {
      return text + operatorClass.map(it -> " " + it).orElse("") + (descending ? " desc" : "");
    }
  }

  /** An index. */
  record TestIndex(
      String name,
      String table,
      boolean unique,
      List<TestKey> key,
      List<String> included,
      Optional<String> predicate) {
    String ddl() {
      return "create "
          + (unique ? "unique " : "")
          + "index "
          + name
          + " on "
          + table
          + key.stream().map(TestKey::ddl).collect(Collectors.joining(", ", " (", ")"))
          + (included.isEmpty() ? "" : " include (" + String.join(", ", included) + ")")
          + predicate.map(it -> " where " + it).orElse("");
    }

    List<String> keyTexts() {
      return key.stream().map(TestKey::text).toList();
    }
  }

  TestTable withIndexes(List<TestIndex> others) {
    return new TestTable(name, columns, primaryKey, rows, others);
  }

  TestColumn column(String wanted) {
    return columns.stream().filter(it -> it.name().equals(wanted)).findFirst().orElseThrow();
  }

  String ddl() {
    List<String> parts = new ArrayList<>(columns.stream().map(TestColumn::ddl).toList());
    if (!primaryKey.isEmpty()) {
      parts.add("primary key (" + String.join(", ", primaryKey) + ")");
    }
    return "create table " + name + " (" + String.join(", ", parts) + ")";
  }

  /** All rows in one statement each hundred. */
  List<String> inserts(Abilities abilities) {
    List<String> result = new ArrayList<>();
    for (int from = 0; from < rows.size(); from += 100) {
      result.add(
          rows.subList(from, Math.min(rows.size(), from + 100)).stream()
              .map(row -> literals(row, abilities))
              .collect(Collectors.joining(", ", "insert into " + name + " values ", "")));
    }
    return result;
  }

  private String literals(Integer[] row, Abilities abilities) {
    List<String> values = new ArrayList<>();
    for (int i = 0; i < row.length; i++) {
      values.add(row[i] == null ? "null" : abilities.literal(columns.get(i).kind(), row[i]));
    }
    return "(" + String.join(", ", values) + ")";
  }
}
