package dev.colonnade.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * EXPLAIN of PostgreSQL 15.18 over a table of 1539 pages and 100,000 rows, its indexes of 276 pages
 * and height 1.
 */
class ScanCostTest {
  private static final double PAGES = 1_539;
  private static final double ROWS = 100_000;
  private static final double INDEX_PAGES = 276;

  @Test
  void sequential_scans() {
    assertThat(ScanCost.table(PAGES, ROWS, 0)).isCloseTo(2539.00, within(0.005));
    assertThat(ScanCost.table(PAGES, ROWS, 1)).isCloseTo(2789.00, within(0.005));
  }

  @ParameterizedTest
  @CsvSource({
    "1, 1.0, 8.31", // id = 5, unique
    "1053, 1.0, 50.72", // id < 1000, the table lies in the order of id
    "984, 0.0053762957, 3013.43", // r < 1000
    "29803, 0.0053762957, 7009.68", // r < 30000
  })
  void index_scans(double rows, double correlation, double expected) {
    double stretchPages = Math.ceil(rows * INDEX_PAGES / ROWS);
    double index = ScanCost.stretches(stretchPages, 0, rows, 1) + ScanCost.descent(ROWS, 1);
    double visits = ScanCost.visits(rows, PAGES, ROWS, INDEX_PAGES, correlation, 0);
    assertThat(index + visits).isCloseTo(expected, within(0.005));
  }

  @Test
  void nothing_fetched_costs_nothing() {
    assertThat(ScanCost.visits(0, PAGES, ROWS, INDEX_PAGES, 0, 1)).isZero();
    assertThat(ScanCost.descent(1, 0)).isCloseTo(0.125, within(1e-9));
  }
}
