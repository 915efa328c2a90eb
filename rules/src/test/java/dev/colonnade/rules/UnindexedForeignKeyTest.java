package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Severity;
import org.junit.jupiter.api.Test;

class UnindexedForeignKeyTest {
  private static final RuleTester INVOICE =
      RuleTester.of(new UnindexedForeignKey())
          .table("booking", "id bigint not null primary key, departure date not null")
          .table(
              "invoice",
              "id bigint not null primary key, booking_id bigint, total decimal(10, 2),"
                  + " constraint fk_invoice_booking foreign key (booking_id) references booking"
                  + " (id)")
          .rows("invoice", 300_000)
          .distinct("invoice", "booking_id", 250_000);

  @Test
  void deleting_parents_makes_it_a_warning() {
    INVOICE
        .query("delete from booking where departure < ?")
        .reports(
            "warning: [unindexed-foreign-key] no index leads with booking_id of invoice",
            "each row deleted from booking makes the database look for it here: queries.sql:1",
            "full-table-scan invoice",
            "create index invoice_booking_id_ix(booking_id): index-only-range-scan");
  }

  @Test
  void the_check_itself_is_no_second_finding() {
    new RuleTester(
            new MissingIndex(), INVOICE.query("delete from booking where departure < ?").scene())
        .staysSilent();
  }

  @Test
  void loading_children_makes_it_a_warning() {
    INVOICE
        .query("select total from invoice where booking_id = ?")
        .reports("warning:", "children of a row are looked for by queries.sql:1");
  }

  @Test
  void otherwise_it_is_a_note() {
    assertThat(INVOICE.query("select total from invoice where id = ?").findings())
        .singleElement()
        .matches(finding -> finding.severity() == Severity.NOTE)
        .matches(finding -> finding.suggestions().isEmpty());
  }

  /** Joining from the child to the parent goes by the parent's key. */
  @Test
  void reading_the_parent_of_a_child_needs_no_index() {
    assertThat(
            INVOICE
                .query(
                    "select b.departure from invoice i join booking b on b.id = i.booking_id where"
                        + " i.id = ?")
                .findings())
        .allMatch(finding -> finding.severity() == Severity.NOTE);
  }

  @Test
  void any_order_of_the_columns_serves() {
    RuleTester two =
        RuleTester.of(new UnindexedForeignKey())
            .table("tide", "station bigint, day date, primary key (station, day)")
            .table(
                "passage",
                "id bigint primary key, station bigint, day date, draught integer, foreign key"
                    + " (station, day) references tide (station, day)")
            .query("delete from tide where day < ?");
    two.index("ix_turned", "passage (day, station, draught)").staysSilent();
    two.index("ix_apart", "passage (station, draught, day)").reports("station, day of passage");
  }

  @Test
  void a_partial_index_serves_if_it_leaves_out_nulls_only() {
    INVOICE
        .index("ix_given", "invoice (booking_id) where booking_id is not null")
        .query("delete from booking where departure < ?")
        .staysSilent();
    INVOICE
        .index("ix_dear", "invoice (booking_id) where total > 1000")
        .query("delete from booking where departure < ?")
        .reports("no index leads with booking_id");
  }

  /** MySQL 8.4 manual, "FOREIGN KEY Constraints"; H2, HSQLDB and Derby make one likewise. */
  @Test
  void databases_that_make_the_index_need_no_advice() {
    for (Dialect dialect : Dialects.all()) {
      RuleTester there = INVOICE.on(dialect).query("delete from booking where departure < ?");
      if (dialect.features().foreignKeyIndexed().value()) {
        there.staysSilent();
      } else {
        there.reports("no index leads with booking_id");
      }
    }
  }

  @Test
  void a_small_table_is_read_anyway() {
    INVOICE.rows("invoice", 100).query("delete from booking where departure < ?").staysSilent();
  }
}
