package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class QueryIdSearchTest {
  /** The first two rows are the textbook examples of Levenshtein's distance. */
  @ParameterizedTest
  @CsvSource({
    "kitten, sitting, 3",
    "saturday, sunday, 3",
    "'', abc, 3",
    "abc, '', 3",
    "same, same, 0"
  })
  void distance_counts_edits(String from, String to, int edits) {
    assertThat(QueryIdSearch.edits(from, to)).isEqualTo(edits);
    assertThat(QueryIdSearch.edits(to, from)).isEqualTo(edits);
  }
}
