package dev.colonnade.statistics;

import dev.colonnade.predicate.Identifier;
import java.util.Map;

/**
 * Everything that the statistics file states.
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

  /** What is stated about the table. */
  public TableStatistics table(Identifier table) {
    return tables.getOrDefault(table, TableStatistics.UNKNOWN);
  }
}
