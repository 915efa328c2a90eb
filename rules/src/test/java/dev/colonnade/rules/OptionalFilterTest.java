package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Severity;
import org.junit.jupiter.api.Test;

class OptionalFilterTest {
  private static final RuleTester BOOKING =
      RuleTester.of(new OptionalFilter())
          .on(Dialects.oracle())
          .table(
              "booking",
              "id bigint primary key, berth_id bigint not null, status varchar(10) not null,"
                  + " note varchar(200)")
          .rows("booking", 100_000)
          .distinct("booking", "berth_id", 500)
          .distinct("booking", "status", 50_000)
          .index("ix_berth", "booking (berth_id)");

  @Test
  void a_parameter_switches_the_filter_off() {
    BOOKING
        .query("select note from booking where (:b is null or berth_id = :b)")
        .reports(
            "index   ix_berth(berth_id): bounds nothing",
            "with berth_id = ?: range-scan booking ix_berth");
    BOOKING
        .query("select note from booking where (berth_id = :b or cast(:b as bigint) is null)")
        .reports("with berth_id = ?: range-scan");
    BOOKING
        .query("select note from booking where (:every = 1 or berth_id = :b)")
        .reports("with berth_id = ?: range-scan");
  }

  @Test
  void the_column_itself_stands_in_for_the_value() {
    BOOKING
        .query("select note from booking where berth_id = coalesce(:b, berth_id)")
        .reports("with berth_id = ?: range-scan");
    BOOKING
        .query("select note from booking where nvl(:b, berth_id) = berth_id")
        .reports("with berth_id = ?: range-scan");
    BOOKING.query("select note from booking where berth_id = coalesce(:b, 7)").staysSilent();
    BOOKING.query("select note from booking where berth_id = coalesce(:b, id)").staysSilent();
  }

  @Test
  void each_filter_is_spoken_of() {
    BOOKING
        .index("ix_status", "booking (status)")
        .query(
            "select note from booking where (:b is null or berth_id = :b)"
                + " and (:s is null or status = :s)")
        .reports("with berth_id = ?: range-scan", "with status = ?: range-scan");
  }

  @Test
  void an_index_may_be_missing_besides() {
    BOOKING
        .query("select note from booking where (:s is null or status = :s)")
        .reports("with status = ?: and an index on (status): range-scan");
  }

  @Test
  void a_filter_that_is_always_there_is_none() {
    BOOKING.query("select note from booking where berth_id = :b").staysSilent();
    BOOKING
        .query("select note from booking where (berth_id = :b or berth_id is null)")
        .staysSilent();
  }

  @Test
  void a_row_found_by_its_key_needs_no_more() {
    BOOKING
        .query("select note from booking where id = :i and (:b is null or berth_id = :b)")
        .staysSilent();
  }

  @Test
  void a_small_table_is_read_anyway() {
    BOOKING
        .rows("booking", 300)
        .query("select note from booking where (:b is null or berth_id = :b)")
        .staysSilent();
  }

  /** PostgreSQL 18 manual, PREPARE: custom plans; seen with (cast(? as integer) is null or ...). */
  @Test
  void plans_made_with_the_values_make_it_a_note() {
    assertThat(
            BOOKING
                .on(Dialects.postgresql())
                .query("select note from booking where (:b is null or berth_id = :b)")
                .findings())
        .singleElement()
        .matches(finding -> finding.severity() == Severity.NOTE);
  }
}
