package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Finding;
import java.util.List;
import org.junit.jupiter.api.Test;

class MissingIndexTest {
  private static final RuleTester BOOKING =
      RuleTester.of(new MissingIndex())
          .table(
              "booking",
              "id bigint primary key, vessel_id bigint not null, berth_id bigint not null,"
                  + " status varchar(12), starts_on date, note varchar(200)");

  @Test
  void the_premise_comes_first_then_the_path_the_indexes_and_the_way_out() {
    BOOKING
        .index("ix_status", "booking (status)")
        .query("select note from booking where vessel_id = ?")
        .reports(
            "queries.sql:1: warning: [missing-index] no index leads with a column",
            "query   booking: vessel_id = ?",
            "path    full-table-scan booking: ",
            "index   2 indexes hold none of these columns",
            "fix     create index booking_vessel_id_ix(vessel_id): range-scan booking",
            "price   every write to the table maintains one index more",
            "caution building it reads the whole table",
            "DBA in charge decides");
  }

  @Test
  void an_index_on_one_of_the_columns_is_enough_for_silence() {
    BOOKING
        .index("ix_vessel", "booking (vessel_id)")
        .query("select note from booking where vessel_id = ? and berth_id = ?")
        .staysSilent();
  }

  @Test
  void equalities_go_before_the_range_in_what_is_proposed() {
    BOOKING
        .query("select note from booking where starts_on >= ? and vessel_id = ?")
        .reports("create index booking_vessel_id_starts_on_ix(vessel_id, starts_on)");
  }

  @Test
  void two_queries_that_lack_the_same_index_are_told_the_same_name() {
    List<Finding> findings =
        BOOKING
            .query("select note from booking where vessel_id = ?")
            .query("select status from booking where ? = vessel_id")
            .findings();
    assertThat(findings).hasSize(2);
    assertThat(findings.get(0).suggestions().get(0))
        .isEqualTo(findings.get(1).suggestions().get(0));
    assertThat(findings.get(0).fingerprint()).isNotEqualTo(findings.get(1).fingerprint());
  }

  @Test
  void a_name_that_is_taken_is_not_proposed_again() {
    BOOKING
        .index("booking_vessel_id_ix", "booking (status)")
        .query("select note from booking where vessel_id = ?")
        .reports("create index booking_vessel_id_ix_2(vessel_id)");
  }

  @Test
  void an_opaque_condition_may_be_the_selective_one() {
    BOOKING
        .query("select note from booking where vessel_id = ? and note similar to '(a|b)%'")
        .staysSilent();
  }

  @Test
  void an_assumption_is_owned_up_to() {
    assertThat(BOOKING.query("select note from booking where vessel_id = ?").findings())
        .extracting(Finding::restsOnAssumption)
        .containsExactly(true);
    assertThat(
            BOOKING
                .rows("booking", 500_000)
                .distinct("booking", "vessel_id", 5_000)
                .query("select note from booking where vessel_id = ?")
                .findings())
        .extracting(Finding::restsOnAssumption)
        .containsExactly(false);
  }

  @Test
  void a_condition_that_selects_much_of_the_table_is_best_served_by_reading_it() {
    BOOKING
        .rows("booking", 500_000)
        .distinct("booking", "status", 2)
        .query("select note from booking where status = 'open'")
        .staysSilent();
  }

  @Test
  void a_small_table_is_left_alone_and_the_boundary_counts_as_large() {
    RuleTester query = BOOKING.query("select note from booking where vessel_id = ?");
    query.rows("booking", 999).staysSilent();
    query.rows("booking", 1_000).distinct("booking", "vessel_id", 1_000).reports("missing-index");
    query
        .rows("booking", 999)
        .option(MissingIndex.MINIMUM_ROWS, 500)
        .distinct("booking", "vessel_id", 999)
        .reports("missing-index");
  }

  @Test
  void columns_in_the_wrong_order_are_another_rules_business() {
    BOOKING
        .index("ix_status_vessel", "booking (status, vessel_id)")
        .query("select note from booking where vessel_id = ?")
        .staysSilent();
  }

  @Test
  void an_index_that_others_need_in_its_order_is_not_turned_round_but_joined_by_another() {
    BOOKING
        .index("ix_status_vessel", "booking (status, vessel_id)")
        .query("select note from booking where vessel_id = ?")
        .query("select note from booking where status = ?")
        .reports(
            "index   ix_status_vessel(status, vessel_id): 0 matching, leading column status is not",
            "create index booking_vessel_id_ix(vessel_id)");
  }

  @Test
  void a_query_that_reads_everything_lacks_nothing() {
    BOOKING.query("select note from booking").staysSilent();
    BOOKING.query("select note from booking where status is not null").staysSilent();
  }

  @Test
  void different_columns_under_or_are_another_matter() {
    BOOKING.query("select note from booking where vessel_id = ? or berth_id = ?").staysSilent();
  }

  @Test
  void each_use_of_a_table_in_a_subquery_counts() {
    BOOKING
        .table("vessel", "id bigint primary key, name varchar(60) not null")
        .rows("booking", 500_000)
        .distinct("booking", "vessel_id", 5_000)
        .query(
            "select v.name from vessel v where v.id = ?"
                + " and exists (select 1 from booking b where b.vessel_id = v.id)")
        .reports(
            "query   booking: vessel_id = v.id", "create index booking_vessel_id_ix(vessel_id)");
  }

  @Test
  void deletes_and_updates_search_too() {
    BOOKING
        .rows("booking", 500_000)
        .distinct("booking", "vessel_id", 5_000)
        .query("delete from booking where vessel_id = ?")
        .reports("missing-index");
  }

  @Test
  void a_partial_index_that_the_query_does_not_imply_does_not_help() {
    BOOKING
        .ddl("create index ix_open on booking (vessel_id) where status = 'open'")
        .query("select note from booking where vessel_id = ?")
        .reports("ix_open(vessel_id)", "does not imply the predicate");
  }

  @Test
  void every_database_is_told_the_same() {
    Dialects.all()
        .forEach(
            dialect ->
                BOOKING
                    .on(dialect)
                    .rows("booking", 500_000)
                    .distinct("booking", "vessel_id", 5_000)
                    .query("select note from booking where vessel_id = ?")
                    .reports("full-table-scan", "create index booking_vessel_id_ix(vessel_id)"));
  }
}
