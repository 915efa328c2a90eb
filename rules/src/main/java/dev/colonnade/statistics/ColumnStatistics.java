package dev.colonnade.statistics;

import java.util.List;
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
 * @param bounds values, smallest first, that cut the rows that hold neither NULL nor a common value
 *     into parts of equal size: the smallest, the largest and those between; none or at least two
 */
public record ColumnStatistics(
    OptionalDouble distinct,
    OptionalDouble nullFraction,
    OptionalDouble averageWidth,
    Optional<String> minimum,
    Optional<String> maximum,
    Map<String, Double> commonValues,
    OptionalDouble correlation,
    List<String> bounds) {
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

  /** Copies what is handed over. */
  public ColumnStatistics {
    commonValues = Map.copyOf(commonValues);
    bounds = List.copyOf(bounds);
  }

  /** Without bounds of parts of equal size. */
  public ColumnStatistics(
      OptionalDouble distinct,
      OptionalDouble nullFraction,
      OptionalDouble averageWidth,
      Optional<String> minimum,
      Optional<String> maximum,
      Map<String, Double> commonValues,
      OptionalDouble correlation) {
    this(
        distinct,
        nullFraction,
        averageWidth,
        minimum,
        maximum,
        commonValues,
        correlation,
        List.of());
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
