package dev.colonnade.rules;

import org.junit.jupiter.api.Test;

/** Ids such as CP-03 are rows of the project's list of published examples. */
class ColumnOrderTest {
  private static final RuleTester INVOICE =
      RuleTester.of(new ColumnOrder())
          .table(
              "invoice",
              "id bigint primary key, vessel_id bigint not null, amount decimal(12, 2) not null,"
                  + " issued_on date not null, note varchar(200)")
          .rows("invoice", 200_000)
          .distinct("invoice", "vessel_id", 4_000)
          .distinct("invoice", "issued_on", 2_000);

  /** CP-03 and CP-04: (s,f) reads every entry, (f,s) one contiguous stretch. */
  @Test
  void the_sum_in_front_of_the_filter_is_the_wrong_order() {
    INVOICE
        .index("ix_sf", "invoice (amount, vessel_id)")
        .query("select sum(amount) from invoice where vessel_id = ?")
        .reports(
            "path    full-index-scan invoice ix_sf screening vessel_id: 200000 entries",
            "index   ix_sf(amount, vessel_id): 0 matching, leading column amount is not bound",
            "fix     create index invoice_vessel_id_amount_ix(vessel_id, amount), then drop index"
                + " ix_sf: index-only-range-scan invoice");
  }

  /** CP-02. */
  @Test
  void the_filter_in_front_is_the_right_one() {
    INVOICE
        .index("ix_fs", "invoice (vessel_id, amount)")
        .query("select sum(amount) from invoice where vessel_id = ?")
        .staysSilent();
  }

  @Test
  void an_index_that_others_need_gets_a_second_one_if_that_answers_alone() {
    INVOICE
        .index("ix_sf", "invoice (issued_on, vessel_id)")
        .query("select issued_on from invoice where vessel_id = ?")
        .query("select note from invoice where issued_on = ?")
        .reports(
            "fix     create index invoice_vessel_id_issued_on_ix(vessel_id, issued_on):"
                + " index-only-range-scan");
  }

  @Test
  void an_index_that_others_need_is_otherwise_no_reason_for_a_copy() {
    INVOICE
        .index("ix_sf", "invoice (issued_on, vessel_id)")
        .query("select note from invoice where vessel_id = ?")
        .query("select note from invoice where issued_on = ?")
        .staysSilent();
    INVOICE
        .table("day", "on_day date primary key")
        .ddl(
            "alter table invoice add constraint fk_day foreign key (issued_on)"
                + " references day (on_day)")
        .index("ix_sf", "invoice (issued_on, vessel_id)")
        .query("select note from invoice where vessel_id = ?")
        .staysSilent();
  }

  @Test
  void where_another_index_bounds_the_scan_already_no_third_is_turned_round() {
    INVOICE
        .index("ix_ledger", "invoice (amount, issued_on, vessel_id)")
        .index("ix_vessel", "invoice (vessel_id)")
        .query("select amount, issued_on from invoice where vessel_id = ?")
        .staysSilent();
  }

  @Test
  void a_gap_in_the_middle_is_closed() {
    INVOICE
        .index("ix_gap", "invoice (vessel_id, amount, issued_on)")
        .query("select note from invoice where vessel_id = ? and issued_on = ?")
        .staysSilent();
    INVOICE
        .distinct("invoice", "vessel_id", 20)
        .index("ix_gap", "invoice (vessel_id, amount, issued_on)")
        .query("select note from invoice where vessel_id = ? and issued_on = ?")
        .reports(
            "1 matching, amount is not bound",
            "create index invoice_vessel_id_issued_on_amount_ix(");
  }

  @Test
  void the_key_of_a_constraint_has_other_reasons() {
    RuleTester.of(new ColumnOrder())
        .table(
            "berthing",
            "vessel_id bigint, berth_id bigint, note varchar(200), primary key (vessel_id, berth_id)")
        .query("select note from berthing where berth_id = ?")
        .staysSilent();
  }

  @Test
  void a_unique_index_stays_unique_in_the_other_order() {
    INVOICE
        .uniqueIndex("ux", "invoice (amount, vessel_id)")
        .query("select sum(amount) from invoice where vessel_id = ?")
        .reports(
            "create unique index invoice_vessel_id_amount_ix(vessel_id, amount), then drop index ux");
  }
}
