package dev.colonnade.rules;

import org.junit.jupiter.api.Test;

class UnreadIndexTest {
  private static final RuleTester VESSEL =
      RuleTester.of(new UnreadIndex())
          .table("harbour", "id bigint not null primary key")
          .table(
              "vessel",
              "id bigint not null primary key, name varchar(60) not null, flag varchar(2) not null,"
                  + " harbour_id bigint references harbour (id), built_on date")
          .index("ix_flag", "vessel (flag)");

  private static final String BY_KEY = "select name from vessel where id = ?";

  @Test
  void nobody_asks() {
    VESSEL
        .query(BY_KEY)
        .reports(
            "warning: [unread-index] ix_flag on vessel serves no query",
            "none of the 1 analysed queries",
            "100.0 % of the queries written in the service were understood",
            "drop index ix_flag",
            "the DBA in charge decides");
  }

  @Test
  void a_condition_an_order_or_coverage_is_need_enough() {
    VESSEL.query("select name from vessel where flag = ?").staysSilent();
    VESSEL.query("select name from vessel where name = ? and flag > ?").staysSilent();
    VESSEL.query("select name from vessel order by flag").staysSilent();
    VESSEL.query("select flag, count(*) from vessel group by flag").staysSilent();
    VESSEL.query("select flag from vessel").staysSilent();
  }

  /** PostgreSQL keeps a key once for many rows: with two values the index is far smaller. */
  @Test
  void counting_rows_needs_an_index_only_where_it_is_far_smaller_than_the_next() {
    RuleTester counted = VESSEL.rows("vessel", 100_000).query("select count(*) from vessel");
    counted.distinct("vessel", "flag", 2).staysSilent();
    counted.distinct("vessel", "flag", 99_000).reports("[unread-index] ix_flag on vessel");
  }

  /** Whatever statistics say today: tomorrow the condition may be the selective one. */
  @Test
  void an_index_that_is_dearer_today_may_be_needed() {
    VESSEL
        .index("ix_name", "vessel (name)")
        .distinct("vessel", "name", 100_000)
        .distinct("vessel", "flag", 2)
        .rows("vessel", 100_000)
        .query("select built_on from vessel where name = ? and flag = ?")
        .staysSilent();
  }

  @Test
  void constraints_and_foreign_keys_need_theirs() {
    VESSEL
        .ddl("drop index ix_flag")
        .index("ix_harbour", "vessel (harbour_id)")
        .uniqueIndex("ux_name", "vessel (name)")
        .query(BY_KEY)
        .staysSilent();
  }

  @Test
  void a_table_that_no_query_reads_is_not_spoken_of() {
    VESSEL.query("select id from harbour").staysSilent();
    VESSEL.staysSilent();
  }

  @Test
  void one_query_in_two_not_understood_silences_it() {
    VESSEL.query(BY_KEY).unreadableQuery().staysSilent();
  }

  @Test
  void one_in_thirty_makes_it_a_note() {
    RuleTester many = VESSEL.unreadableQuery();
    for (int i = 0; i < 29; i++) {
      many = many.query(BY_KEY + " and " + i + " < ?");
    }
    many.reports(
        "note: [unread-index]", "96.6 % of the queries written in the service were understood");
  }

  @Test
  void a_surplus_index_is_another_rules_affair() {
    VESSEL.index("ix_flag_too", "vessel (flag, name)").query(BY_KEY).reports("ix_flag_too");
  }
}
