package dev.colonnade.statistics;

/** How many rows a table has. */
public final class RowCount {
  /**
   * Rows of a table about which nothing is stated. Our own choice, of the size at which an index
   * begins to matter: some hundred pages.
   */
  public static final double ASSUMED_ROWS = 10_000;

  private RowCount() {}

  /**
   * The stated number of rows; without one, those that the changelog itself loads; without such,
   * {@link #ASSUMED_ROWS}. Never negative.
   */
  public static Estimate of(TableStatistics statistics) {
    if (statistics.rows().isPresent()) {
      return Estimate.declared(Math.max(0, statistics.rows().getAsDouble()));
    }
    return statistics.loadedRows().isPresent()
        ? new Estimate(Math.max(0, statistics.loadedRows().getAsDouble()), Confidence.DERIVED)
        : Estimate.assumed(ASSUMED_ROWS);
  }
}
