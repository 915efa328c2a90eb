package dev.colonnade.statistics;

import dev.colonnade.predicate.Identifier;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * What is stated about a table; each part may be missing.
 *
 * @param rows number of rows
 * @param rowWidth average bytes of a row
 * @param columns by column
 */
public record TableStatistics(
    OptionalDouble rows, OptionalDouble rowWidth, Map<Identifier, ColumnStatistics> columns) {
  /** Nothing is stated. */
  public static final TableStatistics UNKNOWN =
      new TableStatistics(OptionalDouble.empty(), OptionalDouble.empty(), Map.of());

  /** Copies the map. */
  public TableStatistics {
    columns = Map.copyOf(columns);
  }

  /** What is stated about the column. */
  public ColumnStatistics column(Identifier column) {
    return columns.getOrDefault(column, ColumnStatistics.UNKNOWN);
  }
}
