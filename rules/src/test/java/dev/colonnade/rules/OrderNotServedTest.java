package dev.colonnade.rules;

import dev.colonnade.dialect.Dialects;
import org.junit.jupiter.api.Test;

/** Ids such as MA-22 are rows of the project's list of published examples. */
class OrderNotServedTest {
  private static final RuleTester BOOKING =
      RuleTester.of(new OrderNotServed())
          .table(
              "booking",
              "id bigint not null, vessel_id bigint not null, starts_at timestamp not null,"
                  + " fee integer not null, note varchar(200),"
                  + " constraint pk_booking primary key (id)")
          .rows("booking", 500_000)
          .distinct("booking", "vessel_id", 500)
          .distinct("booking", "fee", 100);
  private static final RuleTester BY_VESSEL = BOOKING.index("ix", "booking (vessel_id)");

  /** MA-22: where aaa=123 order by ccc limit 10 wants (aaa,ccc). */
  @Test
  void the_order_belongs_behind_the_equality() {
    BY_VESSEL
        .query("select note from booking where vessel_id = ? order by starts_at limit 10")
        .reports(
            "query   booking: vessel_id = ? order by starts_at limit 10",
            "sorted afterwards: 1000 entries",
            "create index booking_vessel_id_starts_at_ix(vessel_id, starts_at), then drop index ix",
            "10 entries");
  }

  /** MA-23: order by ccc limit 10 wants (ccc). */
  @Test
  void an_order_alone_wants_an_index_too() {
    BOOKING
        .query("select note from booking order by starts_at desc limit 10")
        .reports(
            "full-table-scan", "create index booking_starts_at_ix(starts_at): full-index-scan");
  }

  @Test
  void an_index_read_backwards_serves() {
    BOOKING
        .index("ix", "booking (vessel_id, starts_at)")
        .query("select note from booking where vessel_id = ? order by starts_at desc limit 10")
        .staysSilent();
  }

  /** MY-58: mixed directions want an index in mixed directions. */
  @Test
  void mixed_directions_are_kept() {
    BOOKING
        .index("ix", "booking (vessel_id, starts_at, fee)")
        .query("select note from booking where vessel_id = ? order by starts_at desc, fee limit 10")
        .reports("(vessel_id, starts_at desc, fee)");
  }

  /** EO-9: H2 and HSQLDB sort behind an equality whatever the index. */
  @Test
  void no_index_is_proposed_that_the_database_would_not_take_the_order_from() {
    for (var dialect : java.util.List.of(Dialects.h2(), Dialects.hsqldb())) {
      BY_VESSEL
          .on(dialect)
          .query("select note from booking where vessel_id = ? order by starts_at limit 10")
          .staysSilent();
    }
  }

  @Test
  void sorting_few_rows_without_a_limit_is_nothing() {
    RuleTester all =
        BY_VESSEL.query("select note from booking where vessel_id = ? order by starts_at");
    all.distinct("booking", "vessel_id", 50_000).staysSilent();
  }

  @Test
  void an_order_by_a_term_is_left_alone_where_terms_cannot_be_indexed() {
    BY_VESSEL
        .on(Dialects.derby())
        .query("select note from booking where vessel_id = ? order by fee + 1")
        .staysSilent();
  }

  @Test
  void a_range_before_the_order_has_no_cure_here() {
    BOOKING
        .index("ix", "booking (starts_at)")
        .query("select note from booking where starts_at > ? order by starts_at limit 10")
        .staysSilent();
  }

  @Test
  void a_missing_index_is_another_rules_business() {
    BOOKING
        .query("select note from booking where vessel_id = ? order by starts_at limit 10")
        .staysSilent();
  }
}
