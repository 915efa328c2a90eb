package dev.colonnade.rules;

import org.junit.jupiter.api.Test;

/** Ids such as MY-16 are rows of the project's list of published examples. */
class LeadingWildcardTest {
  private static final RuleTester VESSEL =
      RuleTester.of(new LeadingWildcard())
          .table(
              "vessel",
              "id bigint primary key, name varchar(60) not null, owner_id bigint not null,"
                  + " flag varchar(2)")
          .index("ix", "vessel (name)");

  /** MY-16, PG-66, SL-17: {@code like '%Patrick%'} uses no index. */
  @Test
  void a_pattern_without_a_head_bounds_nothing() {
    VESSEL
        .query("select flag from vessel where name like '%maru'")
        .reports(
            "path    full-table-scan vessel",
            "index   ix(name): sorted from the first character on",
            "fix     drop the leading wildcard");
    VESSEL.query("select flag from vessel where name like '_aru'").reports("leading-wildcard");
  }

  @Test
  void a_head_a_parameter_or_no_pattern_are_silent() {
    VESSEL.query("select flag from vessel where name like 'maru%'").staysSilent();
    VESSEL.query("select flag from vessel where name like ?").staysSilent();
    VESSEL.query("select flag from vessel where name = '%maru'").staysSilent();
    VESSEL.query("select flag from vessel where name not like '%maru'").staysSilent();
  }

  @Test
  void another_condition_that_bounds_the_scan_makes_it_harmless() {
    VESSEL
        .index("ix_owner", "vessel (owner_id)")
        .query("select flag from vessel where owner_id = ? and name like '%maru'")
        .staysSilent();
    VESSEL.query("select flag from vessel where id = ? and name like '%maru'").staysSilent();
  }

  @Test
  void an_index_made_for_text_is_trusted() {
    VESSEL
        .ddl("create index ix_text on vessel using gin (name gin_trgm_ops)")
        .query("select flag from vessel where name like '%maru%'")
        .staysSilent();
  }

  @Test
  void a_small_table_is_left_alone() {
    RuleTester query = VESSEL.query("select flag from vessel where name like '%maru'");
    query.rows("vessel", 999).staysSilent();
    query.rows("vessel", 1_000).reports("leading-wildcard");
    query.rows("vessel", 999).option(LeadingWildcard.MINIMUM_ROWS, 10).reports("leading-wildcard");
  }
}
