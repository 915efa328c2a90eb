package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.finding.Finding;
import org.junit.jupiter.api.Test;

/** Ids such as CP-05 are rows of the project's list of published examples. */
class LeadingColumnTest {
  private static final RuleTester BOOKING =
      RuleTester.of(new LeadingColumn())
          .table(
              "booking",
              "id bigint primary key, status varchar(12) not null, berth_id bigint not null,"
                  + " note varchar(200)")
          .rows("booking", 100_000)
          .distinct("booking", "berth_id", 1_000)
          .index("ix", "booking (status, berth_id)");
  private static final String BY_BERTH = "select note from booking where berth_id = ?";

  /** CP-05: without its leading column the scan cannot be restricted to matching entries. */
  @Test
  void an_unbound_leading_column_is_reported_at_the_index() {
    BOOKING
        .query(BY_BERTH)
        .reports(
            "changelog.sql:2: warning",
            "no query binds status, the leading column of ix",
            "query   queries.sql:1 asks of booking: berth_id = ?",
            "index   ix(status, berth_id): 0 matching, leading column status is not bound",
            "create index booking_berth_id_status_ix(berth_id, status), then drop index ix");
  }

  @Test
  void one_query_that_binds_it_is_enough_for_silence() {
    BOOKING.query(BY_BERTH).query("select note from booking where status = ?").staysSilent();
    BOOKING
        .query(BY_BERTH)
        .query("select note from booking where status > ? and berth_id = ?")
        .staysSilent();
  }

  @Test
  void one_that_takes_its_order_from_it_too() {
    BOOKING
        .query(BY_BERTH)
        .query("select status, berth_id from booking order by status, berth_id limit 5")
        .staysSilent();
  }

  @Test
  void where_turning_it_round_helps_nobody_it_is_a_candidate_for_dropping() {
    BOOKING
        .index("ix_berth", "booking (berth_id)")
        .query(BY_BERTH)
        .reports("no query binds status", "if nothing else reads the index, it can go");
  }

  @Test
  void queries_that_bind_nothing_of_it_say_nothing_about_it() {
    BOOKING.query("select note from booking where id = ?").staysSilent();
    BOOKING.staysSilent();
  }

  @Test
  void a_query_that_could_not_be_read_may_bind_it() {
    assertThat(BOOKING.query(BY_BERTH).findings())
        .extracting(Finding::restsOnAssumption)
        .containsExactly(false);
    assertThat(BOOKING.query(BY_BERTH).unreadableQuery().findings())
        .extracting(Finding::restsOnAssumption)
        .containsExactly(true);
  }

  @Test
  void a_database_that_jumps_over_few_values_gets_by() {
    BOOKING.distinct("booking", "status", 4).query(BY_BERTH).staysSilent();
  }

  @Test
  void a_unique_index_may_be_turned_round_and_a_constraint_may_not() {
    RuleTester mooring =
        RuleTester.of(new LeadingColumn())
            .table(
                "mooring",
                "id bigint primary key, slot integer not null, vessel_id bigint not null, note varchar(200)")
            .rows("mooring", 100_000)
            .distinct("mooring", "vessel_id", 1_000)
            .query("select note from mooring where vessel_id = ?");
    mooring
        .uniqueIndex("ux", "mooring (slot, vessel_id)")
        .reports(
            "create unique index mooring_vessel_id_slot_ix(vessel_id, slot), then drop index ux");
    mooring.ddl("alter table mooring add constraint uq unique (slot, vessel_id)").staysSilent();
  }
}
