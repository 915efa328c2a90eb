package dev.colonnade.statistics;

/** How many rows a table has. */
public final class RowCount {
  /**
   * Rows of a table about which nothing is stated. Our own choice, of the size at which an index
   * begins to matter: some hundred pages.
   */
  public static final double ASSUMED_ROWS = 10_000;

  private RowCount() {}

  /** The stated number of rows, or {@link #ASSUMED_ROWS}; never negative. */
  public static Estimate of(TableStatistics statistics) {
    return statistics.rows().isPresent()
        ? Estimate.declared(Math.max(0, statistics.rows().getAsDouble()))
        : Estimate.assumed(ASSUMED_ROWS);
  }
}
