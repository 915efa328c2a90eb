package dev.colonnade.statistics;

import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What is stated about the values of a column; each part may be missing.
 *
 * @param distinct number of different values, NULL not counted
 * @param nullFraction share of rows with NULL, 0 to 1
 * @param averageWidth average bytes of a value that is not NULL
 * @param minimum smallest value, as text
 * @param maximum largest value, as text
 * @param commonValues share of rows, 0 to 1, by value as text
 * @param correlation how far the order of the rows follows this column, -1 to 1
 */
public record ColumnStatistics(
    OptionalDouble distinct,
    OptionalDouble nullFraction,
    OptionalDouble averageWidth,
    Optional<String> minimum,
    Optional<String> maximum,
    Map<String, Double> commonValues,
    OptionalDouble correlation) {
  /** Nothing is stated. */
  public static final ColumnStatistics UNKNOWN =
      new ColumnStatistics(
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          Optional.empty(),
          Optional.empty(),
          Map.of(),
          OptionalDouble.empty());

  /** Copies the map. */
  public ColumnStatistics {
    commonValues = Map.copyOf(commonValues);
  }

  /** Only the number of different values is stated. */
  public static ColumnStatistics distinct(double values) {
    return new ColumnStatistics(
        OptionalDouble.of(values),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Optional.empty(),
        Optional.empty(),
        Map.of(),
        OptionalDouble.empty());
  }
}
