package dev.colonnade.statistics;

import dev.colonnade.predicate.Identifier;
import java.util.HashMap;
import java.util.Map;

/**
 * Everything that the statistics file states, and the rows that the changelog loads.
 *
 * @param tables by table
 */
public record Statistics(Map<Identifier, TableStatistics> tables) {
  /** Nothing is stated. */
  public static final Statistics NONE = new Statistics(Map.of());

  /** Copies the map. */
  public Statistics {
    tables = Map.copyOf(tables);
  }

  /** The same with the numbers of rows that the changelog itself puts into tables. */
  public Statistics withLoadedRows(Map<Identifier, Long> loaded) {
    Map<Identifier, TableStatistics> all = new HashMap<>(tables);
    loaded.forEach((table, rows) -> all.put(table, table(table).withLoadedRows(rows)));
    return new Statistics(all);
  }

  /** What is stated about the table. */
  public TableStatistics table(Identifier table) {
    return tables.getOrDefault(table, TableStatistics.UNKNOWN);
  }
}
