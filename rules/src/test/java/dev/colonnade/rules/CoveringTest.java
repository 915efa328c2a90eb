package dev.colonnade.rules;

import dev.colonnade.dialect.Dialects;
import org.junit.jupiter.api.Test;

/** Ids such as CP-01 are rows of the project's list of published examples. */
class CoveringTest {
  private static final RuleTester INVOICE =
      RuleTester.of(new Covering())
          .table(
              "invoice",
              "id bigint not null, vessel_id bigint not null, amount decimal(12, 2) not null,"
                  + " tax decimal(12, 2), issued_on date not null, scan blob, note varchar(200),"
                  + " constraint pk_invoice primary key (id)")
          .rows("invoice", 200_000)
          .distinct("invoice", "vessel_id", 400);
  private static final RuleTester BY_VESSEL = INVOICE.index("ix", "invoice (vessel_id)");
  private static final String SUM = "select sum(amount) from invoice where vessel_id = ?";

  /** CP-01 and CP-02. */
  @Test
  void one_column_more_spares_the_rows() {
    BY_VESSEL
        .query(SUM)
        .reports(
            "note",
            "range-scan invoice ix(vessel_id = ?): 500 entries",
            "(vessel_id) include (amount)");
  }

  @Test
  void without_included_columns_the_key_grows() {
    BY_VESSEL
        .on(Dialects.mysql())
        .query(SUM)
        .reports("invoice_vessel_id_amount_ix(vessel_id, amount)");
  }

  /** The wider index would be too large to be read whole; the table would be read instead. */
  @Test
  void an_index_stays_that_another_query_reads_whole() {
    RuleTester call =
        RuleTester.of(new Covering())
            .on(Dialects.h2())
            .table(
                "call",
                "id bigint not null, a integer not null, b integer not null, c integer,"
                    + " d varchar(20) not null, e date not null, note varchar(200),"
                    + " constraint pk_call primary key (id)")
            .rows("call", 10_000)
            .index("ix", "call (d, a, b)")
            .query("select note from call where e between ? and ? and d > ?");
    call.reports("then drop index ix");
    call.query("select count(*) from call where b > ?")
        .reports("create index", "every write to the table maintains one index more");
  }

  @Test
  void a_unique_index_stays_beside_its_wider_copy_where_nothing_can_be_included() {
    INVOICE
        .on(Dialects.mysql())
        .distinct("invoice", "vessel_id", 400)
        .uniqueIndex("ux", "invoice (vessel_id, issued_on)")
        .query(SUM)
        .reports("fix     create index invoice_vessel_id_issued_on_amount_ix(");
  }

  @Test
  void the_index_of_a_constraint_gets_a_second_one_only_for_many_pages() {
    RuleTester unique =
        INVOICE
            .ddl("alter table invoice add constraint uq unique (vessel_id, issued_on)")
            .query(SUM);
    unique.reports("fix     create index invoice_vessel_id_issued_on_amount_ix(");
    unique.distinct("invoice", "vessel_id", 4_000).staysSilent();
  }

  /** CP-07. */
  @Test
  void counting_needs_nothing_more() {
    BY_VESSEL.query("select count(*) from invoice where vessel_id = ?").staysSilent();
  }

  @Test
  void the_row_itself_may_be_needed() {
    BY_VESSEL.query("delete from invoice where vessel_id = ?").staysSilent();
    BY_VESSEL.query("select amount from invoice where vessel_id = ? for update").staysSilent();
  }

  @Test
  void the_appended_primary_key_is_there_already() {
    BY_VESSEL
        .on(Dialects.mysql())
        .query("select id from invoice where vessel_id = ?")
        .staysSilent();
    BY_VESSEL.query("select id from invoice where vessel_id = ?").reports("include (id)");
  }

  @Test
  void a_database_that_always_visits_the_row_gains_nothing() {
    BY_VESSEL.on(Dialects.hsqldb()).query(SUM).staysSilent();
  }

  @Test
  void large_and_many_columns_are_left_out() {
    BY_VESSEL.query("select scan from invoice where vessel_id = ?").staysSilent();
    RuleTester three =
        BY_VESSEL.query("select amount, tax, issued_on from invoice where vessel_id = ?");
    three.staysSilent();
    three.option(Covering.MAXIMUM_COLUMNS, 3).reports("include (amount, tax, issued_on)");
  }

  @Test
  void few_pages_are_not_worth_a_word() {
    RuleTester few = BY_VESSEL.distinct("invoice", "vessel_id", 20_000).query(SUM);
    few.staysSilent();
    few.option(Covering.MINIMUM_PAGES, 5).reports("include (amount)");
  }

  @Test
  void a_look_up_by_a_unique_key_fetches_one_row() {
    INVOICE.query("select sum(amount) from invoice where id = ?").staysSilent();
  }
}
