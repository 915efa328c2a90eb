package dev.colonnade.statistics;

import static dev.colonnade.predicate.ComparisonOperator.EQUAL;
import static dev.colonnade.predicate.ComparisonOperator.GREATER;
import static dev.colonnade.predicate.ComparisonOperator.GREATER_OR_EQUAL;
import static dev.colonnade.predicate.ComparisonOperator.LESS;
import static dev.colonnade.predicate.ComparisonOperator.LESS_OR_EQUAL;
import static dev.colonnade.statistics.StatisticsFixture.bookings;
import static dev.colonnade.statistics.StatisticsFixture.column;
import static dev.colonnade.statistics.StatisticsFixture.compare;
import static dev.colonnade.statistics.StatisticsFixture.equal;
import static dev.colonnade.statistics.StatisticsFixture.index;
import static dev.colonnade.statistics.StatisticsFixture.number;
import static dev.colonnade.statistics.StatisticsFixture.rows;
import static dev.colonnade.statistics.StatisticsFixture.text;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Like;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/**
 * Columns that depend on each other, bounds of parts of equal size, and the clustering of an index.
 * The numbers are worked out by hand beside each check.
 */
class DependentColumnsTest {
  private static final TableStatistics PLAIN =
      rows(
          1_000_000,
          "berth",
          ColumnStatistics.distinct(100),
          "vessel",
          ColumnStatistics.distinct(1_000),
          "status",
          ColumnStatistics.distinct(4));

  private static TableStatistics grouped(double combinations, String... columns) {
    Set<Identifier> group = Arrays.stream(columns).map(Identifier::of).collect(Collectors.toSet());
    return new TableStatistics(
        PLAIN.rows(),
        PLAIN.rowWidth(),
        PLAIN.columns(),
        OptionalDouble.empty(),
        Map.of(group, combinations),
        Map.of());
  }

  private static double share(TableStatistics statistics, Predicate... conjuncts) {
    return new SelectivityEstimator(bookings(), statistics).ofAll(List.of(conjuncts)).value();
  }

  private static ColumnStatistics withBounds(
      double nulls, Map<String, Double> common, String... bounds) {
    return new ColumnStatistics(
        OptionalDouble.of(100),
        OptionalDouble.of(nulls),
        OptionalDouble.empty(),
        Optional.empty(),
        Optional.empty(),
        common,
        OptionalDouble.empty(),
        List.of(bounds));
  }

  @Test
  void equalities_on_a_whole_group_take_one_of_its_combinations() {
    assertThat(share(PLAIN, equal("berth"), equal("vessel"))).isCloseTo(1e-5, within(1e-12));
    TableStatistics group = grouped(2_000, "berth", "vessel");
    assertThat(share(group, equal("berth"), equal("vessel"))).isCloseTo(1 / 2_000.0, within(1e-12));
    // The status is no part of it: a quarter more.
    assertThat(share(group, equal("berth"), equal("vessel"), equal("status")))
        .isCloseTo(1 / 8_000.0, within(1e-12));
    assertThat(share(group, equal("berth"))).isCloseTo(0.01, within(1e-12));
  }

  /** Two of three columns have 100,000 combinations by themselves, but the group has only 5,000. */
  @Test
  void some_columns_of_a_group_have_no_more_combinations_than_the_group() {
    TableStatistics group = grouped(5_000, "berth", "vessel", "status");
    assertThat(share(group, equal("berth"), equal("vessel"))).isCloseTo(2e-4, within(1e-12));
    assertThat(share(group, equal("berth"), equal("vessel"), equal("status")))
        .isCloseTo(2e-4, within(1e-12));
    // 100 * 4 combinations are fewer than 5,000.
    assertThat(share(group, equal("berth"), equal("status"))).isCloseTo(1 / 400.0, within(1e-12));
  }

  @Test
  void a_group_with_fewer_combinations_than_values_never_raises_a_share() {
    TableStatistics wrong = grouped(10, "berth", "vessel");
    assertThat(share(wrong, equal("berth"), equal("vessel"))).isCloseTo(0.001, within(1e-12));
  }

  /** Four parts of equal size: 0-10, 10-20, 20-100, 100-1000. */
  @Test
  void a_range_counts_the_parts_that_it_spans() {
    TableStatistics known =
        rows(1_000_000, "vessel", withBounds(0, Map.of(), "0", "10", "20", "100", "1000"));
    assertThat(share(known, compare("vessel", LESS, number("20")))).isCloseTo(0.5, within(1e-9));
    assertThat(share(known, compare("vessel", LESS, number("60")))).isCloseTo(0.625, within(1e-9));
    assertThat(share(known, compare("vessel", GREATER, number("1000")))).isLessThan(1e-5);
    assertThat(
            share(
                known,
                compare("vessel", GREATER_OR_EQUAL, number("15")),
                compare("vessel", LESS_OR_EQUAL, number("100"))))
        .isCloseTo(0.375, within(1e-9));
  }

  /** A fifth NULL, 0.3 the value 5, the other half in two parts: below 50 are 0.3 + 0.25. */
  @Test
  void common_values_and_nulls_lie_outside_the_parts() {
    TableStatistics known =
        rows(1_000_000, "vessel", withBounds(0.2, Map.of("5", 0.3), "0", "50", "100"));
    assertThat(share(known, compare("vessel", LESS, number("50")))).isCloseTo(0.55, within(1e-9));
    assertThat(share(known, compare("vessel", LESS, number("5")))).isCloseTo(0.025, within(1e-9));
    assertThat(share(known, compare("vessel", LESS_OR_EQUAL, number("5"))))
        .isCloseTo(0.325, within(1e-9));
    assertThat(share(known, compare("vessel", EQUAL, number("5")))).isCloseTo(0.3, within(1e-9));
  }

  @Test
  void a_prefix_is_a_range_of_texts() {
    TableStatistics known =
        rows(1_000_000, "status", withBounds(0, Map.of(), "aft", "bow", "keel", "mast", "stern"));
    Predicate prefix =
        new Like(column("status"), text("k%"), Like.Wildcards.LIKE, false, Optional.empty());
    // From "k", near the end of the part bow-keel (0.92 of it), to "l", in the part keel-mast (0.11
    // of it), characters read as digits to the base 128: (0.08 + 0.11) / 4.
    assertThat(share(known, prefix)).isCloseTo(0.048, within(0.001));
    assertThat(new SelectivityEstimator(bookings(), known).of(prefix).confidence())
        .isEqualTo(Confidence.DERIVED);
    Predicate none =
        new Like(column("status"), text("zz%"), Like.Wildcards.LIKE, false, Optional.empty());
    assertThat(share(known, none)).isEqualTo(0.01);
  }

  /** The days 1 to 50 of equal weight: up to day 25 is a half, below day 25 is 24 of 50. */
  @Test
  void the_end_of_a_range_counts_as_one_of_the_values() {
    ColumnStatistics fifty =
        new ColumnStatistics(
            OptionalDouble.of(50),
            OptionalDouble.of(0),
            OptionalDouble.empty(),
            Optional.of("1"),
            Optional.of("50"),
            Map.of(),
            OptionalDouble.empty());
    TableStatistics known = rows(1_000_000, "vessel", fifty);
    assertThat(share(known, compare("vessel", LESS_OR_EQUAL, number("25"))))
        .isCloseTo(0.5, within(1e-9));
    assertThat(share(known, compare("vessel", LESS, number("25")))).isCloseTo(0.48, within(1e-9));
    assertThat(
            share(
                known,
                compare("vessel", GREATER_OR_EQUAL, number("7")),
                compare("vessel", LESS_OR_EQUAL, number("7"))))
        .isCloseTo(0.02, within(1e-9));
  }

  /** 1,000 rows of 1,000,000: about as many pages at random, a thousandth of the table together. */
  @Test
  void stated_clustering_of_an_index_decides_how_many_pages_its_rows_lie_on() {
    TableStatistics clustered =
        new TableStatistics(
            PLAIN.rows(),
            PLAIN.rowWidth(),
            PLAIN.columns(),
            OptionalDouble.empty(),
            Map.of(),
            Map.of(Identifier.of("by_berth"), 1.0));
    TableProfile profile =
        new TableProfile(
            bookings(index("by_berth", false, "berth")), clustered, Dialects.postgresql());
    double scattered = profile.pagesVisited(1_000, 0);
    double together =
        profile.pagesVisited(1_000, profile.correlation(index("by_berth", false, "berth")));
    assertThat(together).isEqualTo(Math.ceil(profile.tablePages().value() / 1_000));
    assertThat(scattered).isGreaterThan(10 * together);
    assertThat(profile.correlation(index("other", false, "berth"))).isZero();
  }
}
