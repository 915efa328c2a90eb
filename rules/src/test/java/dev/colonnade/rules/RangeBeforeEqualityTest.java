package dev.colonnade.rules;

import dev.colonnade.dialect.Dialects;
import org.junit.jupiter.api.Test;

/** Ids such as MA-11 are rows of the project's list of published examples. */
class RangeBeforeEqualityTest {
  private static final RuleTester BOOKING =
      RuleTester.of(new RangeBeforeEquality())
          .table(
              "booking",
              "id bigint primary key, berth_id bigint not null, starts_on date not null,"
                  + " note varchar(200)")
          .rows("booking", 100_000)
          .distinct("booking", "berth_id", 500);

  /** MA-11: for aaa >= 123 and bbb = 1 the ideal index is (bbb, aaa). */
  @Test
  void the_range_in_front_ends_matching() {
    BOOKING
        .index("ix", "booking (starts_on, berth_id)")
        .query("select note from booking where starts_on >= ? and berth_id = ?")
        .reports(
            "1 matching, berth_id stands behind the range on starts_on",
            "create index booking_berth_id_starts_on_ix(berth_id, starts_on), then drop index ix");
  }

  @Test
  void the_order_of_the_conditions_does_not_matter() {
    BOOKING
        .index("ix", "booking (starts_on, berth_id)")
        .query("select note from booking where ? = berth_id and ? <= starts_on")
        .reports("create index booking_berth_id_starts_on_ix(berth_id, starts_on)");
  }

  @Test
  void a_list_in_front_is_no_range() {
    BOOKING
        .index("ix", "booking (starts_on, berth_id)")
        .query("select note from booking where starts_on in (?, ?) and berth_id = ?")
        .staysSilent();
  }

  @Test
  void a_range_alone_is_where_it_belongs() {
    BOOKING
        .index("ix", "booking (starts_on, berth_id)")
        .query("select note from booking where starts_on >= ?")
        .staysSilent();
  }

  @Test
  void an_unbound_column_in_front_is_another_rules_business() {
    BOOKING
        .index("ix", "booking (starts_on, berth_id)")
        .query("select note from booking where berth_id = ?")
        .staysSilent();
  }

  @Test
  void a_second_index_is_proposed_where_another_query_needs_the_range_in_front() {
    BOOKING
        .index("ix", "booking (starts_on, berth_id)")
        .query("select id from booking where starts_on >= ? and berth_id = ?")
        .query("select berth_id from booking where starts_on = ?")
        .reports("fix     create index booking_berth_id_starts_on_ix(berth_id, starts_on): ");
  }

  @Test
  void every_database_stops_at_the_range() {
    Dialects.all()
        .forEach(
            dialect ->
                BOOKING
                    .on(dialect)
                    .index("ix", "booking (starts_on, berth_id)")
                    .query("select note from booking where starts_on >= ? and berth_id = ?")
                    .reports("create index booking_berth_id_starts_on_ix(berth_id, starts_on)"));
  }
}
