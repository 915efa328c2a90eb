package dev.colonnade.planner;

import dev.colonnade.planner.TestTable.TestIndex;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** The indexes of a workload, under whatever names a database gives those of primary keys. */
final class BenchmarkIndexes {
  private final Map<String, TestIndex> byName = new HashMap<>();
  private final Map<String, TestIndex> primaryKeys = new HashMap<>();

  BenchmarkIndexes(List<TestTable> tables) {
    for (TestTable table : tables) {
      table.indexes().forEach(it -> byName.put(it.name(), it));
      if (!table.primaryKey().isEmpty()) {
        primaryKeys.put(
            table.name(), Benchmark.index("pk_" + table.name(), table.name(), table.primaryKey()));
      }
    }
  }

  /**
   * The index of a plan: one of ours by its name, or else the primary key's.
   *
   * @param table name of the table
   */
  Optional<TestIndex> find(String name, String table) {
    return find(name).or(() -> Optional.ofNullable(primaryKeys.get(lower(table))));
  }

  /** The index of that name, primary keys as PostgreSQL and SQLite name them. */
  Optional<TestIndex> find(String name) {
    String wanted = lower(name);
    return Optional.ofNullable(byName.get(wanted))
        .or(
            () ->
                Optional.ofNullable(
                    primaryKeys.get(
                        wanted.replaceAll("^sqlite_autoindex_(\\w+)_1$|^(\\w+)_pkey$", "$1$2"))));
  }

  private static String lower(String name) {
    return name.toLowerCase(Locale.ROOT);
  }
}
