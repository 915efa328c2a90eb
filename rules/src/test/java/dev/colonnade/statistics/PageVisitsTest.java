package dev.colonnade.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Values computed from the published formulas with exact fractions. */
class PageVisitsTest {

  /**
   * Cardenas, CACM 18(5) 1975; Yao, CACM 20(4) 1977. The last row by hand: 2 (1 - 10/20 * 9/19) =
   * 29/19.
   */
  @ParameterizedTest
  @CsvSource({
    "10000, 1000, 1, 1.0000, 1.0000",
    "10000, 1000, 10, 9.9551, 9.9596",
    "10000, 1000, 100, 95.2079, 95.6591",
    "10000, 1000, 1000, 632.3046, 651.4960",
    "1000, 100, 10, 9.5618, 9.6032",
    "1000, 100, 100, 63.3968, 65.3072",
    "1000000, 10000, 1000, 951.6711, 952.1234",
    "20, 2, 2, 1.5000, 1.5263",
  })
  void pages_touched_by_rows_at_random(
      double tableRows, double pages, double rows, double cardenas, double yao) {
    assertThat(PageVisits.cardenas(pages, rows)).isCloseTo(cardenas, within(0.00005));
    assertThat(PageVisits.yao(tableRows, pages, rows)).isCloseTo(yao, within(0.00005));
  }

  /** Cardenas <= Yao <= min(m, k); Yao is m for all rows and 1 for one. */
  @Test
  void formulas_keep_their_order_and_their_limits() {
    long seed = 20_250_718;
    Random random = new Random(seed);
    for (int i = 0; i < 2_000; i++) {
      double pages = 1 + random.nextInt(5_000);
      double tableRows = pages * (1 + random.nextInt(200));
      double rows = 1 + random.nextInt((int) tableRows);
      double cardenas = PageVisits.cardenas(pages, rows);
      double yao = PageVisits.yao(tableRows, pages, rows);
      String state = "seed " + seed + ", m " + pages + ", n " + tableRows + ", k " + rows;
      assertThat(cardenas).as(state).isLessThanOrEqualTo(yao + 1e-6);
      assertThat(yao).as(state).isLessThanOrEqualTo(Math.min(pages, rows) + 1e-6);
      assertThat(PageVisits.yao(tableRows, pages, tableRows)).as(state).isEqualTo(pages);
      assertThat(PageVisits.yao(tableRows, pages, 1)).as(state).isCloseTo(1, within(1e-6));
    }
    assertThat(PageVisits.yao(1_000, 100, 0)).isZero();
  }

  /** Mackert and Lohman, TODS 14(3) 1989, in the form of PostgreSQL's index_pages_fetched. */
  @ParameterizedTest
  @CsvSource({
    "1, 1000, 524288, 1",
    "100, 1000, 524288, 96",
    "1000, 1000, 524288, 667",
    "5000, 1000, 524288, 1000",
    "5000, 100000, 10000, 4879",
    "10526, 100000, 10000, 10000",
    "50000, 100000, 10000, 45527",
    "1000000, 100000, 10000, 900527",
  })
  void pages_read_through_a_cache(double rows, double pages, double cache, double expected) {
    assertThat(PageVisits.mackertLohman(rows, pages, cache)).isEqualTo(expected);
  }
}
