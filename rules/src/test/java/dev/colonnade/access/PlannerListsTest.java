package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Expression;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * What lists, several conditions on one column, equalities within a table and NULLs come to where
 * planners differ, each as seen in plans and counted entries (PlannerAgreementTest asks them
 * again): H2 2.5.252, Derby 10.16.1.1, MariaDB 11.4.5, SQLite 3.54.1.
 */
class PlannerListsTest {
  private static final List<String> TABLES =
      List.of(
          "table berth(id int not null, pier int, length int, depth int, primary key (id))",
          "index berth_pier on berth(pier, length, depth)",
          "index berth_length on berth(length desc, pier)");

  private static Candidate candidate(Dialect dialect, String index, String where) {
    return PlannerFactsTest.candidate(
        TABLES, dialect, index, "select id from berth where " + where);
  }

  private static List<String> matching(Dialect dialect, String index, String where) {
    return candidate(dialect, index, where).matching().stream().map(Expression::render).toList();
  }

  private static Optional<Boolean> ordered(Dialect dialect, String index, String where) {
    return candidate(dialect, index, where).orderServed();
  }

  @Test
  void of_two_conditions_h2_looks_up_the_list_and_nothing_else() {
    String two = "pier in (1, 2) and length = 3";
    assertThat(matching(Dialects.h2(), "berth_pier", two)).containsExactly("pier");
    assertThat(matching(Dialects.postgresql(), "berth_pier", two))
        .containsExactly("pier", "length");
  }

  @Test
  void of_more_conditions_the_list_is_certain_on_h2_only_where_it_stands_alone_on_the_index() {
    String three = "pier in (1, 2) and length = 3 and id > 4";
    assertThat(matching(Dialects.h2(), "berth_pier", three)).isEmpty();
    assertThat(candidate(Dialects.h2(), "berth_pier", three).remark())
        .contains("the list on pier bounds the scan only where it is evaluated before");
    assertThat(matching(Dialects.h2(), "berth_pier", "pier in (1, 2) and id > 4 and id < 9"))
        .containsExactly("pier");
    assertThat(matching(Dialects.sqlite(), "berth_pier", three)).containsExactly("pier", "length");
  }

  @Test
  void a_list_beside_an_equality_on_its_column_leaves_that_column_at_least() {
    String both = "pier in (1, 2) and pier = 1 and length = 3";
    assertThat(matching(Dialects.h2(), "berth_pier", both)).containsExactly("pier");
  }

  @Test
  void h2_reads_a_descending_column_from_one_condition_to_the_other() {
    String range = "length = 5 and length > 2 and pier = 1";
    assertThat(matching(Dialects.h2(), "berth_length", range)).containsExactly("length");
    assertThat(matching(Dialects.h2(), "berth_pier", range + " and depth = 1"))
        .containsExactly("pier", "length", "depth");
    assertThat(matching(Dialects.h2(), "berth_length", "length = 5 and pier = 1"))
        .containsExactly("length", "pier");
    assertThat(matching(Dialects.postgresql(), "berth_length", range))
        .containsExactly("length", "pier");
  }

  @Test
  void an_equality_of_two_columns_of_one_table_carries_no_value_on_derby() {
    String own = "pier = length and length = 4";
    assertThat(matching(Dialects.derby(), "berth_pier", own)).isEmpty();
    assertThat(matching(Dialects.sqlite(), "berth_pier", own)).containsExactly("pier", "length");
  }

  @Test
  void null_fixes_a_column_on_mariadb_where_the_scan_is_bound_by_it() {
    assertThat(
            ordered(
                Dialects.mariadb(),
                "berth_pier",
                "pier = 1 and length is null order by length, depth"))
        .isEqualTo(Optional.of(true));
    assertThat(
            ordered(
                Dialects.mariadb(),
                "berth_pier",
                "pier > 1 and length is null order by length, pier"))
        .isEqualTo(Optional.of(false));
  }

  @Test
  void a_value_or_null_is_not_read_in_order_on_mariadb() {
    assertThat(ordered(Dialects.mariadb(), "berth_pier", "pier in (2, 3) order by pier"))
        .isEqualTo(Optional.of(true));
    assertThat(
            ordered(Dialects.mariadb(), "berth_pier", "(pier is null or pier = 3) order by pier"))
        .isEqualTo(Optional.of(false));
  }

  @Test
  void sqlite_reads_nulls_apart_only_directly_behind_what_is_looked_up() {
    assertThat(ordered(Dialects.sqlite(), "berth_pier", "pier = 1 order by length nulls last"))
        .isEqualTo(Optional.of(true));
    assertThat(ordered(Dialects.sqlite(), "berth_pier", "pier in (1, 2) order by pier"))
        .isEqualTo(Optional.of(true));
    assertThat(ordered(Dialects.sqlite(), "berth_pier", "pier in (1, 2) order by pier nulls last"))
        .isEqualTo(Optional.of(false));
  }

  @Test
  void both_branches_of_a_keyset_page_bound_the_scan_on_sqlite() {
    String next = "(pier > 3 or (pier = 3 and length > 5))";
    assertThat(matching(Dialects.sqlite(), "berth_pier", next)).containsExactly("pier");
    assertThat(matching(Dialects.postgresql(), "berth_pier", next)).isEmpty();
  }
}
