package dev.colonnade.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/**
 * Plans as PostgreSQL 18.6, MariaDB 11.4.5 and H2 2.5.252 print them, shortened to what is read.
 */
final class PlanReadersTest {
  private static final List<String> KEY = List.of("status", "arrival", "berth_id");

  private static PlannedRead postgres(String condition) throws Exception {
    return PostgresPlan.of(
            """
            [{"Plan": {"Node Type": "Sort", "Plans": [{"Node Type": "Index Only Scan", "Alias": "b",
              "Index Name": "ix", "Index Cond": "%s"}]}}]
            """
                .formatted(condition))
        .reads()
        .get(0);
  }

  @Test
  void postgresql_seeks_up_to_the_first_range() throws Exception {
    PlannedRead read =
        postgres("(((status)::text = 'A) AND (B'::text) AND (arrival < $1) AND (berth_id = 3))");

    assertThat(read.matching(KEY)).contains(List.of("status", "arrival"));
    assertThat(read.covering()).contains(true);
    assertThat(read.after()).isEmpty();
  }

  @Test
  void postgresql_names_the_tables_that_values_come_from() throws Exception {
    PlannedRead read = postgres("((status = ANY ('{x,y.z}'::text[])) AND (arrival = be.opened))");

    assertThat(read.matching(KEY)).contains(List.of("status", "arrival"));
    assertThat(read.after()).isEqualTo(Set.of("be"));
  }

  @Test
  void postgresql_without_a_condition_on_the_first_column_seeks_on_nothing() throws Exception {
    assertThat(postgres("(arrival IS NOT NULL)").matching(KEY)).contains(List.of());
    assertThat(postgres("").matching(KEY)).contains(List.of());
    assertThat(
            postgres("((status IS NULL) AND (arrival IS NOT NULL) AND (berth_id = 1))")
                .matching(KEY))
        .contains(List.of("status", "arrival"));
  }

  @Test
  void what_is_no_comparison_of_one_column_is_not_guessed() throws Exception {
    assertThat(postgres("(ROW(status, arrival) > ROW('a'::text, $1))").matching(KEY)).isEmpty();
    assertThat(postgres("(lower((status)::text) = $1)").matching(KEY)).isEmpty();
  }

  @Test
  void postgresql_bitmaps_belong_to_the_table_above_them() throws Exception {
    PlannedReads plan =
        PostgresPlan.of(
            """
            [{"Plan": {"Node Type": "Nested Loop", "Plans": [
              {"Node Type": "Seq Scan", "Alias": "be"},
              {"Node Type": "Bitmap Heap Scan", "Alias": "b", "Plans": [
                {"Node Type": "Bitmap Index Scan", "Index Name": "ix", "Index Cond": "(berth_id = be.id)"}]},
              {"Node Type": "Bitmap Heap Scan", "Alias": "c", "Plans": [
                {"Node Type": "BitmapOr", "Plans": [
                  {"Node Type": "Bitmap Index Scan", "Index Name": "iy", "Index Cond": "(a = 1)"}]}]}]}}]
            """);

    assertThat(plan.sorts()).isFalse();
    assertThat(plan.reads()).extracting(PlannedRead::alias).containsExactly("be", "b", "c");
    assertThat(plan.reads().get(0).index()).isEmpty();
    assertThat(plan.reads().get(1).matching(List.of("berth_id"))).contains(List.of("berth_id"));
    assertThat(plan.reads().get(1).covering()).isEmpty();
    assertThat(plan.reads().get(2).index()).contains("iy");
    assertThat(plan.reads().get(2).matching(List.of("a"))).isEmpty();
  }

  @Test
  void mariadb_names_the_parts_of_the_key_that_it_uses() throws Exception {
    PlannedReads plan =
        MariaDbPlan.of(
            """
            {"query_block": {"filesort": {"sort_key": "b.id", "temporary_table": {"nested_loop": [
              {"table": {"table_name": "be", "access_type": "ALL"}},
              {"table": {"table_name": "b", "access_type": "ref", "key": "ix",
                "used_key_parts": ["status", "arrival"], "ref": ["const", "test.be.opened"],
                "using_index": true}},
              {"table": {"table_name": "c", "access_type": "index", "key": "iy",
                "used_key_parts": ["id"]}}]}}}}
            """);

    assertThat(plan.sorts()).isTrue();
    assertThat(plan.reads().get(0)).isEqualTo(PlannedRead.whole("be"));
    PlannedRead read = plan.reads().get(1);
    assertThat(read.matching(KEY)).contains(List.of("status", "arrival"));
    assertThat(read.covering()).contains(true);
    assertThat(read.after()).isEqualTo(Set.of("be"));
    assertThat(plan.reads().get(2).matching(List.of("id"))).contains(List.of());
    assertThat(plan.reads().get(2).covering()).contains(false);
  }

  @Test
  void h2_lists_conditions_behind_the_index() {
    PlannedReads plan =
        H2Plan.of(
            """
            SELECT "B"."ID" FROM "PUBLIC"."BERTH" "BE" /* PUBLIC.BERTH.tableScan */ INNER JOIN
            "PUBLIC"."BOOKING" "B" /* PUBLIC.IX: STATUS = 'A' AND ARRIVAL = BE.OPENED AND BERTH_ID > 3 */
            ON 1=1 ORDER BY 1 /* index sorted */
            """);

    assertThat(plan.sorts()).isFalse();
    assertThat(plan.reads().get(0)).isEqualTo(PlannedRead.whole("BE"));
    PlannedRead read = plan.reads().get(1);
    assertThat(read.index()).contains("IX");
    assertThat(read.matching(KEY)).contains(KEY);
    assertThat(read.after()).isEqualTo(Set.of("BE"));
    assertThat(read.covering()).isEqualTo(Optional.empty());
  }

  @Test
  void h2_does_not_tell_what_seeks_beside_a_list() {
    String scan = "FROM \"PUBLIC\".\"BOOKING\" /* PUBLIC.IX: %s */";

    assertThat(H2Plan.of(scan.formatted("STATUS IN('A', 'B')")).reads().get(0).matching(KEY))
        .contains(List.of("status"));
    assertThat(
            H2Plan.of(scan.formatted("STATUS IN('A', 'B') AND ARRIVAL = 1"))
                .reads()
                .get(0)
                .matching(KEY))
        .isEmpty();
  }
}
