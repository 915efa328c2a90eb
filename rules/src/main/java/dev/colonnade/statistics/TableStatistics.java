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
 * @param loadedRows number of rows that the changelog itself puts into the table
 */
public record TableStatistics(
    OptionalDouble rows,
    OptionalDouble rowWidth,
    Map<Identifier, ColumnStatistics> columns,
    OptionalDouble loadedRows) {
  /** Nothing is stated. */
  public static final TableStatistics UNKNOWN =
      new TableStatistics(OptionalDouble.empty(), OptionalDouble.empty(), Map.of());

  /** Copies the map. */
  public TableStatistics {
    columns = Map.copyOf(columns);
  }

  /** What is stated about a table into which the changelog puts no rows. */
  public TableStatistics(
      OptionalDouble rows, OptionalDouble rowWidth, Map<Identifier, ColumnStatistics> columns) {
    this(rows, rowWidth, columns, OptionalDouble.empty());
  }

  /** The same with the number of rows that the changelog puts into the table. */
  public TableStatistics withLoadedRows(double loaded) {
    return new TableStatistics(rows, rowWidth, columns, OptionalDouble.of(loaded));
  }

  /** What is stated about the column. */
  public ColumnStatistics column(Identifier column) {
    return columns.getOrDefault(column, ColumnStatistics.UNKNOWN);
  }
}
