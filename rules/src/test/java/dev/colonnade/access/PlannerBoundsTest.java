package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Expression;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * Where planners leave out a bound or an order that textbooks give them, and what derived tables
 * cost, each as seen in plans and counted entries (PlannerAgreementTest asks them again): HSQLDB
 * 2.7.4, SQLite 3.54.1, H2 2.5.252, Derby 10.16.1.1.
 */
class PlannerBoundsTest {
  private static final List<String> TABLES =
      List.of(
          "table berth(id int not null, pier int, length int, free boolean, primary key (id))",
          "index berth_pier on berth(pier, length)",
          "index berth_free on berth(free, pier, length)",
          "table booking(id int not null, berth int, day int, primary key (id))",
          "index booking_berth on booking(berth)",
          "table crane(id int not null, pier int not null, broken boolean not null, primary key"
              + " (id))",
          "index crane_pier on crane(pier)",
          "unique crane_broken on crane(pier, broken)");

  private static Candidate candidate(Dialect dialect, String index, String sql) {
    return PlannerFactsTest.candidate(TABLES, dialect, index, sql);
  }

  private static List<String> matching(Dialect dialect, String index, String rest) {
    return candidate(dialect, index, "select id from berth where " + rest).matching().stream()
        .map(Expression::render)
        .toList();
  }

  @Test
  void read_backwards_a_lower_end_behind_an_equality_bounds_nothing_on_hsqldb() {
    String lower = "pier = 1 and length > 5 order by ";
    assertThat(matching(Dialects.hsqldb(), "berth_pier", lower + "pier, length"))
        .containsExactly("pier", "length");
    assertThat(matching(Dialects.hsqldb(), "berth_pier", lower + "pier desc, length desc"))
        .containsExactly("pier");
    assertThat(matching(Dialects.hsqldb(), "berth_pier", lower + "length desc"))
        .containsExactly("pier", "length");
    assertThat(matching(Dialects.postgresql(), "berth_pier", lower + "pier desc, length desc"))
        .containsExactly("pier", "length");
  }

  @Test
  void read_backwards_a_lower_end_behind_null_bounds_the_scan_on_hsqldb() {
    assertThat(
            matching(
                Dialects.hsqldb(),
                "berth_pier",
                "pier is null and length > 5 order by pier desc, length desc"))
        .containsExactly("pier", "length");
  }

  @Test
  void read_backwards_an_upper_end_and_a_leading_range_still_bound_the_scan_on_hsqldb() {
    assertThat(
            matching(Dialects.hsqldb(), "berth_pier", "pier = 1 and length < 5 order by pier desc"))
        .containsExactly("pier", "length");
    assertThat(
            matching(
                Dialects.hsqldb(),
                "berth_pier",
                "pier = 1 and length > 2 and length < 5 order by pier desc"))
        .containsExactly("pier", "length");
    assertThat(matching(Dialects.hsqldb(), "berth_pier", "pier > 1 order by pier desc"))
        .containsExactly("pier");
  }

  @Test
  void the_largest_value_is_searched_backwards_on_hsqldb() {
    assertThat(largest("max(pier)")).containsExactly("pier");
    assertThat(largest("min(pier)")).containsExactly("pier", "length");
  }

  private static List<String> largest(String aggregate) {
    return candidate(
            Dialects.hsqldb(),
            "berth_pier",
            "select " + aggregate + " from berth where pier = 1 and length > 5")
        .matching()
        .stream()
        .map(Expression::render)
        .toList();
  }

  @Test
  void a_comparison_under_not_bounds_nothing_on_hsqldb() {
    String negated = "pier = 1 and not (length > 5)";
    assertThat(matching(Dialects.hsqldb(), "berth_pier", negated)).containsExactly("pier");
    assertThat(matching(Dialects.h2(), "berth_pier", negated)).containsExactly("pier", "length");
    assertThat(matching(Dialects.hsqldb(), "berth_pier", "pier = 1 and not (length is not null)"))
        .containsExactly("pier", "length");
  }

  @Test
  void a_comparison_displaces_null_on_h2() {
    String both = "free = true and pier is null and pier < 5 and length = 3";
    assertThat(matching(Dialects.h2(), "berth_free", both)).containsExactly("free", "pier");
    assertThat(matching(Dialects.h2(), "berth_free", "free = true and pier is null and length = 3"))
        .containsExactly("free", "pier", "length");
    assertThat(matching(Dialects.postgresql(), "berth_free", both))
        .containsExactly("free", "pier", "length");
  }

  @Test
  void tests_for_null_and_for_truth_values_go_into_a_derived_table_on_h2() {
    String sql = "select id from (select * from berth) b where b.free and b.pier is null";
    assertThat(candidate(Dialects.h2(), "berth_free", sql).matching())
        .extracting(Expression::render)
        .containsExactly("free", "pier");
    String negated = "select id from (select * from berth) b where b.free is not null";
    assertThat(candidate(Dialects.h2(), "berth_free", negated).matching()).isEmpty();
  }

  @Test
  void under_distinct_sqlite_works_out_a_derived_table_that_may_be_missing() {
    String joined = "k.id from booking k left join (select * from berth) b on k.berth = b.pier";
    assertThat(candidate(Dialects.sqlite(), "berth_pier", "select distinct " + joined).missing())
        .isNotEmpty();
    assertThat(candidate(Dialects.sqlite(), "berth_pier", "select " + joined).missing()).isEmpty();
    assertThat(candidate(Dialects.mariadb(), "berth_pier", "select distinct " + joined).missing())
        .isEmpty();
  }

  @Test
  void a_join_of_two_tables_with_a_derived_table_is_sorted_on_derby() {
    String join = "select k.* from booking k inner join booking l on k.day = l.id inner join ";
    String on = " b on k.day = b.id where k.berth > 5 order by k.berth";
    assertThat(candidate(Dialects.derby(), "booking_berth", join + "berth" + on).orderServed())
        .isEqualTo(Optional.of(true));
    assertThat(
            candidate(Dialects.derby(), "booking_berth", join + "(select * from berth)" + on)
                .orderServed())
        .isEqualTo(Optional.of(false));
  }

  private static Optional<Boolean> ordered(Dialect dialect, String index, String sql) {
    return candidate(dialect, index, sql).orderServed();
  }

  private static Optional<Boolean> grouped(Dialect dialect, String index, String sql) {
    return candidate(dialect, index, sql).groupingServed();
  }

  @Test
  void equalities_on_key_and_row_leave_one_row_on_mariadb_and_sqlite() {
    String one = "select * from berth where pier = 1 and length = 2 and id = 3 order by free";
    assertThat(ordered(Dialects.mariadb(), "berth_pier", one)).isEqualTo(Optional.of(true));
    assertThat(ordered(Dialects.sqlite(), "berth_pier", one.replace("pier = 1", "pier > 1")))
        .isEqualTo(Optional.of(false));
    assertThat(ordered(Dialects.postgresql(), "berth_pier", one)).isEqualTo(Optional.of(false));
  }

  @Test
  void one_row_is_sorted_on_derby_where_the_order_says_where_nulls_stand() {
    String one = "select * from crane where pier = 1 and broken = false order by id";
    assertThat(ordered(Dialects.derby(), "crane_broken", one)).isEqualTo(Optional.of(true));
    assertThat(ordered(Dialects.derby(), "crane_broken", one + " nulls first"))
        .isEqualTo(Optional.of(false));
    assertThat(ordered(Dialects.sqlite(), "crane_broken", one + " nulls first"))
        .isEqualTo(Optional.of(true));
  }

  @Test
  void rows_with_a_whole_key_are_distinct_on_mariadb_and_sqlite() {
    String distinct = "select distinct id, length from berth";
    assertThat(grouped(Dialects.mariadb(), "berth_pier", distinct)).isEqualTo(Optional.of(true));
    assertThat(grouped(Dialects.sqlite(), "berth_pier", distinct)).isEqualTo(Optional.of(true));
    assertThat(grouped(Dialects.hsqldb(), "berth_pier", distinct)).isEqualTo(Optional.of(false));
    assertThat(grouped(Dialects.mariadb(), "berth_pier", "select distinct length from berth"))
        .isEqualTo(Optional.of(false));
    assertThat(
            grouped(
                Dialects.mariadb(),
                "berth_pier",
                "select distinct b.id, b.length from berth b join booking k on k.day = b.length"))
        .isNotEqualTo(Optional.of(true));
  }

  @Test
  void a_column_is_not_read_for_is_not_null_where_it_cannot_be_null_on_postgresql_17() {
    String sql = "select pier from crane where broken is not null";
    assertThat(candidate(Dialects.postgresql(), "crane_pier", sql).missing()).isEmpty();
    assertThat(
            candidate(Dialects.atVersion(Dialects.postgresql(), "16"), "crane_pier", sql).missing())
        .isNotEmpty();
    assertThat(candidate(Dialects.sqlite(), "crane_pier", sql).missing()).isNotEmpty();
    assertThat(
            candidate(
                    Dialects.postgresql(),
                    "berth_pier",
                    "select pier from berth where free is not null")
                .missing())
        .as("it can be NULL")
        .isNotEmpty();
  }

  @Test
  void a_range_between_a_value_and_the_same_value_is_sorted_on_mariadb() {
    String equal = "select * from berth where pier between 2 and 2 order by pier";
    assertThat(ordered(Dialects.mariadb(), "berth_pier", equal)).isEqualTo(Optional.of(false));
    assertThat(ordered(Dialects.mariadb(), "berth_pier", equal.replace("and 2", "and 3")))
        .isEqualTo(Optional.of(true));
    assertThat(ordered(Dialects.sqlite(), "berth_pier", equal)).isEqualTo(Optional.of(true));
  }
}
