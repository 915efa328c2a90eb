package dev.colonnade.statistics;

import dev.colonnade.predicate.Identifier;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * What is stated about a table; each part may be missing.
 *
 * @param rows number of rows
 * @param rowWidth average bytes of a row
 * @param columns by column
 * @param loadedRows number of rows that the changelog itself puts into the table
 * @param groups number of different combinations of values by group of columns that depend on each
 *     other
 * @param clustering by index, how far the order of the rows follows it, -1 to 1
 */
public record TableStatistics(
    OptionalDouble rows,
    OptionalDouble rowWidth,
    Map<Identifier, ColumnStatistics> columns,
    OptionalDouble loadedRows,
    Map<Set<Identifier>, Double> groups,
    Map<Identifier, Double> clustering) {
  /** Nothing is stated. */
  public static final TableStatistics UNKNOWN =
      new TableStatistics(OptionalDouble.empty(), OptionalDouble.empty(), Map.of());

  /** Copies the map. */
  public TableStatistics {
    columns = Map.copyOf(columns);
    groups = Map.copyOf(groups);
    clustering = Map.copyOf(clustering);
  }

  /** What is stated about a table into which the changelog puts no rows. */
  public TableStatistics(
      OptionalDouble rows, OptionalDouble rowWidth, Map<Identifier, ColumnStatistics> columns) {
    this(rows, rowWidth, columns, OptionalDouble.empty(), Map.of(), Map.of());
  }

  /** The same with the number of rows that the changelog puts into the table. */
  public TableStatistics withLoadedRows(double loaded) {
    return new TableStatistics(
        rows, rowWidth, columns, OptionalDouble.of(loaded), groups, clustering);
  }

  /** What is stated about the column. */
  public ColumnStatistics column(Identifier column) {
    return columns.getOrDefault(column, ColumnStatistics.UNKNOWN);
  }
}
