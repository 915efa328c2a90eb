package dev.colonnade.statistics;

import static dev.colonnade.predicate.ComparisonOperator.EQUAL;
import static dev.colonnade.predicate.ComparisonOperator.GREATER;
import static dev.colonnade.predicate.ComparisonOperator.GREATER_OR_EQUAL;
import static dev.colonnade.predicate.ComparisonOperator.LESS;
import static dev.colonnade.predicate.ComparisonOperator.LESS_OR_EQUAL;
import static dev.colonnade.predicate.ComparisonOperator.NOT_EQUAL;
import static dev.colonnade.predicate.ComparisonOperator.NULL_SAFE_EQUAL;
import static dev.colonnade.statistics.Confidence.ASSUMED;
import static dev.colonnade.statistics.Confidence.DECLARED;
import static dev.colonnade.statistics.Confidence.DERIVED;
import static dev.colonnade.statistics.StatisticsFixture.PARAMETER;
import static dev.colonnade.statistics.StatisticsFixture.between;
import static dev.colonnade.statistics.StatisticsFixture.bookings;
import static dev.colonnade.statistics.StatisticsFixture.column;
import static dev.colonnade.statistics.StatisticsFixture.compare;
import static dev.colonnade.statistics.StatisticsFixture.equal;
import static dev.colonnade.statistics.StatisticsFixture.index;
import static dev.colonnade.statistics.StatisticsFixture.nulls;
import static dev.colonnade.statistics.StatisticsFixture.number;
import static dev.colonnade.statistics.StatisticsFixture.rows;
import static dev.colonnade.statistics.StatisticsFixture.text;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Exists;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.Like.Wildcards;
import dev.colonnade.predicate.Predicate.Not;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.OpaquePredicate;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.RowComparison;
import dev.colonnade.predicate.Predicate.RowInList;
import dev.colonnade.predicate.Predicate.TruthTest;
import dev.colonnade.schema.Table;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/**
 * Selinger: Selinger, Astrahan, Chamberlin, Lorie, Price, "Access path selection in a relational
 * database management system", SIGMOD 1979, table 1. PostgreSQL: src/include/utils/selfuncs.h.
 */
class SelectivityEstimatorTest {
  private static final Table TABLE = bookings(index("arrival_key", true, "berth", "arrival"));

  private static void check(
      TableStatistics statistics, double share, Confidence confidence, Predicate... conjuncts) {
    Estimate estimate = new SelectivityEstimator(TABLE, statistics).ofAll(List.of(conjuncts));
    assertThat(estimate.value()).isCloseTo(share, within(1e-9));
    assertThat(estimate.confidence()).isEqualTo(confidence);
  }

  @Test
  void no_condition_leaves_every_row() {
    check(rows(1_000), 1, DECLARED);
  }

  @Test
  void postgresql_defaults_stand_in_for_what_nobody_stated() {
    TableStatistics unknown = rows(1_000_000);
    check(unknown, 0.005, ASSUMED, equal("vessel"));
    check(unknown, 1 / 3.0, ASSUMED, compare("arrival", GREATER, PARAMETER));
    check(
        unknown,
        0.005,
        ASSUMED,
        compare("arrival", GREATER, PARAMETER),
        compare("arrival", LESS, PARAMETER));
    check(unknown, 0.995, ASSUMED, compare("vessel", NOT_EQUAL, PARAMETER));
    check(unknown, 0.005, ASSUMED, like("status", "ab%"));
    check(unknown, 0.005, ASSUMED, new NullTest(column("vessel"), false));
    check(unknown, 0.995, ASSUMED, new NullTest(column("vessel"), true));
    // 1,000,000 rows, a = ? and b > ?: 1,667; a = ? or b = ?: 9,975
    check(unknown, 0.005 / 3, ASSUMED, equal("vessel"), compare("arrival", GREATER, PARAMETER));
    check(unknown, 0.009975, ASSUMED, new Or(List.of(equal("vessel"), equal("status"))));
  }

  /** PostgreSQL takes every value to be different where a table has fewer than 200 rows. */
  @Test
  void a_small_table_has_no_more_values_than_rows() {
    check(rows(50), 0.02, ASSUMED, equal("vessel"));
  }

  /** Selinger: 1/ICARD; ICARD 50 gives 0.02. */
  @Test
  void equality_takes_one_of_the_stated_values() {
    TableStatistics known = rows(10_000, "vessel", ColumnStatistics.distinct(50));
    check(known, 0.02, DERIVED, equal("vessel"));
    check(known, 0.98, DERIVED, new Not(equal("vessel")));
    check(known, 0.06, DERIVED, in("vessel", false, "1", "2", "3"));
    check(known, 0.06, DERIVED, in("vessel", false, "1", "2", "3", "3"));
    check(known, 0.2, ASSUMED, in("vessel", true, "1"));
    check(known, 0.02 * 0.005, ASSUMED, equal("vessel"), equal("status"));
  }

  /** One row of 10,000 is the least that is ever expected. */
  @Test
  void numbers_that_exclude_each_other_leave_no_row() {
    TableStatistics known = rows(10_000, "vessel", ColumnStatistics.distinct(50));
    Predicate one = compare("vessel", EQUAL, number("1"));
    Predicate two = compare("vessel", EQUAL, number("2"));
    check(known, 0.0001, DERIVED, one, two);
    check(known, 0.0001, DERIVED, one, in("vessel", false, "2", "3"));
    check(known, 0.02, DERIVED, one, in("vessel", false, "1", "3"));
    check(known, 0.02, DERIVED, one, compare("vessel", EQUAL, number("1.0")));
    check(known, 0.02, DERIVED, one, equal("vessel"));
  }

  @Test
  void the_same_branch_twice_counts_once() {
    TableStatistics known = rows(10_000, "vessel", ColumnStatistics.distinct(50));
    Predicate one = compare("vessel", EQUAL, number("1"));
    check(known, 0.02, DERIVED, new Or(List.of(one, one)));
  }

  /** Selinger: 1/max(ICARD1, ICARD2); 50 and 200 give 0.005. */
  @Test
  void columns_of_two_tables_meet_in_the_larger_number_of_values() {
    Estimate join = SelectivityEstimator.join(Estimate.declared(50), Estimate.declared(200));
    assertThat(join).isEqualTo(Estimate.derived(0.005));
    assertThat(SelectivityEstimator.join(Estimate.declared(50), Estimate.assumed(10)))
        .isEqualTo(Estimate.assumed(0.02));
  }

  /** Selinger: (high - v)/(high - low): 0..100 and 75 give 0.25; 20..45 of 0..100 gives 0.25. */
  @Test
  void literal_ranges_are_measured_between_the_stated_ends() {
    TableStatistics known =
        rows(10_000, "vessel", between("0", "100"), "arrival", between("2025-01-01", "2025-12-31"));
    check(known, 0.25, DERIVED, compare("vessel", GREATER, number("75")));
    check(known, 0.75, DERIVED, compare("vessel", LESS_OR_EQUAL, number("75")));
    check(
        known,
        0.25,
        DERIVED,
        compare("vessel", GREATER_OR_EQUAL, number("20")),
        compare("vessel", LESS_OR_EQUAL, number("45")));
    check(
        known,
        182 / 364.0,
        DERIVED,
        compare("arrival", GREATER, new Literal("2025-07-02", LiteralKind.DATE)));
    check(known, 1 / 10_000.0, DERIVED, compare("vessel", GREATER, number("500")));
    check(known, 1, DERIVED, compare("vessel", GREATER, number("-5")));
    check(known, 1 / 3.0, ASSUMED, compare("vessel", GREATER, PARAMETER));
  }

  @Test
  void a_unique_key_leaves_one_row() {
    check(rows(4_000), 1 / 4_000.0, DERIVED, equal("id"));
    check(rows(4_000), 1 / 4_000.0, DERIVED, equal("berth"), equal("arrival"), equal("berth"));
    check(
        rows(4_000, "status", ColumnStatistics.distinct(4)),
        1 / 16_000.0,
        DERIVED,
        equal("id"),
        equal("status"));
    check(rows(400_000), 0.005 * 0.005, ASSUMED, equal("berth"), equal("vessel"));
    check(rows(4_000), 1 / 4_000.0, ASSUMED, equal("berth"), equal("vessel"));
  }

  @Test
  void common_values_have_their_stated_share_and_the_others_the_rest() {
    TableStatistics known =
        rows(10_000, "status", nulls(0.1, 5, Map.of("open", 0.6, "closed", 0.2)));
    check(known, 0.6, DERIVED, compare("status", EQUAL, text("open")));
    check(known, 0.1 / 3, DERIVED, compare("status", EQUAL, text("late")));
    check(known, 0.9 / 5, DERIVED, equal("status"));
    check(known, 0.3, DERIVED, compare("status", NOT_EQUAL, text("open")));
    check(known, 0.1, DERIVED, new NullTest(column("status"), false));
    check(known, 0.9, DERIVED, new NullTest(column("status"), true));
    check(
        known, 0.1, DERIVED, compare("status", NULL_SAFE_EQUAL, new Literal("", LiteralKind.NULL)));
    check(
        known, 1 / 10_000.0, DERIVED, compare("status", EQUAL, new Literal("", LiteralKind.NULL)));
  }

  @Test
  void a_column_without_nulls_has_none() {
    check(rows(10_000), 1 / 10_000.0, DERIVED, new NullTest(column("berth"), false));
    check(rows(10_000), 1, DERIVED, new NullTest(column("berth"), true));
  }

  @Test
  void truth_values_are_halves_until_stated() {
    TableStatistics known = rows(100, "paid", nulls(0.1, 2, Map.of("true", 0.7, "false", 0.2)));
    check(rows(100), 0.5, ASSUMED, new TruthTest(column("paid"), true, false));
    check(known, 0.7, DERIVED, new TruthTest(column("paid"), true, false));
    check(known, 0.3, DERIVED, new TruthTest(column("paid"), false, true));
    check(known, 0.7, DERIVED, compare("paid", EQUAL, new Literal("TRUE", LiteralKind.BOOLEAN)));
  }

  @Test
  void patterns_without_wildcards_are_equalities_and_percent_alone_is_everything() {
    TableStatistics known = rows(1_000, "status", nulls(0.25, 10, Map.of()));
    check(known, 0.075, DERIVED, like("status", "open"));
    check(known, 0.75, DERIVED, like("status", "%"));
    check(known, 0.005, ASSUMED, like("status", "%en"));
    check(known, 0.995, ASSUMED, new Not(like("status", "%en")));
  }

  /** Selinger: Fa + Fb - Fa Fb: 0.1 and 0.25 give 0.325; and 0.025. */
  @Test
  void or_and_and_combine_as_if_independent() {
    TableStatistics known =
        rows(
            10_000,
            "status",
            ColumnStatistics.distinct(10),
            "vessel",
            ColumnStatistics.distinct(4));
    check(known, 0.325, DERIVED, new Or(List.of(equal("status"), equal("vessel"))));
    check(known, 0.025, DERIVED, new And(List.of(equal("status"), equal("vessel"))));
    check(known, 0.9, DERIVED, new Not(equal("status")));
  }

  @Test
  void conditions_on_one_value_count_once() {
    TableStatistics known = rows(10_000, "vessel", ColumnStatistics.distinct(50));
    check(known, 0.02, DERIVED, equal("vessel"), ofJoin("vessel"));
    check(known, 0.02, ASSUMED, equal("vessel"), new NullTest(column("vessel"), true));
  }

  private static Predicate ofJoin(String column) {
    return compare(column, EQUAL, new ColumnRef(2, Identifier.of("id")));
  }

  @Test
  void rows_compared_are_bounded_by_their_first_values() {
    TableStatistics known =
        rows(
            10_000,
            "vessel",
            between("0", "100"),
            "status",
            ColumnStatistics.distinct(10),
            "berth",
            ColumnStatistics.distinct(20));
    check(
        known,
        0.25,
        DERIVED,
        new RowComparison(
            List.of(column("vessel"), column("status")),
            GREATER,
            List.of(number("75"), PARAMETER)));
    check(
        known,
        2 / 200.0,
        DERIVED,
        new RowInList(
            List.of(column("status"), column("berth")),
            List.of(List.of(text("open"), number("1")), List.of(text("late"), number("2")))));
  }

  @Test
  void what_cannot_be_judged_is_assumed() {
    TableStatistics known = rows(10_000);
    check(known, 0.5, ASSUMED, new Exists(2, Set.of()));
    check(known, 1 / 3.0, ASSUMED, new OpaquePredicate("f(status)", Set.of(), "a function"));
    check(known, 0.5, ASSUMED, new NullTest(PARAMETER, false));
    check(known, 1, DERIVED, new Comparison(number("1"), EQUAL, number("1")));
    check(known, 1 / 10_000.0, DERIVED, new Comparison(number("1"), EQUAL, number("2")));
    check(
        known,
        0.005,
        ASSUMED,
        new Comparison(new Call("lower", List.of(column("status")), true), EQUAL, PARAMETER));
  }

  private static Predicate in(String column, boolean openEnded, String... values) {
    List<Expression> list =
        java.util.Arrays.stream(values).<Expression>map(StatisticsFixture::number).toList();
    return new InList(column(column), list, openEnded);
  }

  private static Predicate like(String column, String pattern) {
    return new Like(column(column), text(pattern), Wildcards.LIKE, false, Optional.empty());
  }
}
