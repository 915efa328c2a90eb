package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Finding;
import org.junit.jupiter.api.Test;

/** Ids such as PG-33 are rows of the project's list of published examples. */
class RedundantIndexTest {
  private static final String BERTH =
      "id bigint not null, harbour_id bigint not null, code varchar(8) not null,"
          + " depth integer, open boolean, constraint pk_berth primary key (id)";

  private static final RuleTester REDUNDANT =
      RuleTester.of(new RedundantIndex()).table("berth", BERTH);

  /** MA-28 and SL-30: of (a) and (a,b) the first is redundant. */
  @Test
  void a_leading_prefix_is_redundant() {
    REDUNDANT
        .index("ix_a", "berth (harbour_id)")
        .index("ix_ab", "berth (harbour_id, code)")
        .query("select depth from berth where harbour_id = ?")
        .reports(
            "error",
            "ix_a is the head of ix_ab",
            "read by queries.sql:1",
            "path    range-scan berth ix_a(harbour_id = ?)",
            "path    without it range-scan berth ix_ab(harbour_id = ?)",
            "drop index ix_a",
            "look first for readers outside this service",
            "DBA in charge decides");
  }

  /** HS-01: unique (c1,c2,c3) serves as index on (c1): extra (c1) redundant. */
  @Test
  void a_prefix_of_a_unique_constraint_is_redundant() {
    REDUNDANT
        .ddl("alter table berth add constraint uq_berth unique (harbour_id, code)")
        .index("ix_a", "berth (harbour_id)")
        .reports("ix_a is the head of uq_berth");
  }

  /** OR-03: (last_name,job_id) and (job_id,last_name) are both valid, neither redundant. */
  @Test
  void another_order_is_not_redundant() {
    REDUNDANT
        .index("ix_ab", "berth (harbour_id, code)")
        .index("ix_ba", "berth (code, harbour_id)")
        .staysSilent();
  }

  @Test
  void the_longer_of_the_two_is_not_redundant_because_its_head_is_unique() {
    REDUNDANT.index("ix_id_code", "berth (id, code)").staysSilent();
  }

  @Test
  void unique_indexes_and_those_of_constraints_enforce_something() {
    REDUNDANT
        .uniqueIndex("ux_a", "berth (code)")
        .index("ix_ab", "berth (code, harbour_id)")
        .staysSilent();
    REDUNDANT
        .ddl("alter table berth add constraint uq_a unique (code)")
        .index("ix_ab", "berth (code, harbour_id)")
        .staysSilent();
  }

  /** Found by scenes drawn at random: SQLite would jump over the one code of the third index. */
  @Test
  void an_index_stays_whose_reader_would_turn_to_a_third_that_serves_it_in_a_worse_way() {
    RuleTester heads =
        REDUNDANT
            .on(Dialects.sqlite())
            .rows("berth", 1_000_000)
            .distinct("berth", "code", 1)
            .index("ix_a", "berth (harbour_id)")
            .uniqueIndex("ix_abc", "berth (harbour_id, code, depth)")
            .query("select count(*) from berth where harbour_id > ?");
    heads.reports("ix_a is the head of ix_abc");
    heads.index("ix_ba", "berth (code desc, harbour_id desc)").staysSilent();
  }

  @Test
  void included_columns_have_to_be_held_by_the_other() {
    REDUNDANT
        .index("ix_a", "berth (harbour_id) include (depth)")
        .index("ix_ab", "berth (harbour_id, code)")
        .staysSilent();
    REDUNDANT
        .index("ix_a", "berth (harbour_id) include (depth)")
        .index("ix_ab", "berth (harbour_id, depth)")
        .reports("ix_a is the head of ix_ab");
    REDUNDANT
        .index("ix_a", "berth (harbour_id)")
        .index("ix_ai", "berth (harbour_id) include (depth)")
        .reports("ix_a is the head of ix_ai");
  }

  @Test
  void a_partial_index_does_not_stand_in_for_a_full_one() {
    REDUNDANT
        .index("ix_a", "berth (harbour_id)")
        .ddl("create index ix_ab on berth (harbour_id, code) where open")
        .staysSilent();
  }

  @Test
  void a_full_index_stands_in_for_a_partial_one_only_if_it_holds_the_columns_of_the_predicate() {
    RuleTester partial = REDUNDANT.ddl("create index ix_a on berth (harbour_id) where open");
    partial.index("ix_ab", "berth (harbour_id, code)").staysSilent();
    partial.index("ix_ab", "berth (harbour_id, open)").reports("ix_a is the head of ix_ab");
    partial
        .ddl("create index ix_ab on berth (harbour_id, code) where open")
        .reports("ix_a is the head of ix_ab");
  }

  @Test
  void directions_have_to_agree_or_to_be_reversed_throughout() {
    REDUNDANT
        .index("ix_a", "berth (harbour_id desc)")
        .index("ix_ab", "berth (harbour_id, code)")
        .reports("ix_a is the head of ix_ab");
    REDUNDANT
        .index("ix_ab", "berth (harbour_id, code desc)")
        .index("ix_abc", "berth (harbour_id, code, depth)")
        .staysSilent();
    REDUNDANT
        .on(Dialects.derby())
        .index("ix_a", "berth (harbour_id desc)")
        .index("ix_ab", "berth (harbour_id, code)")
        .staysSilent();
  }

  @Test
  void of_a_chain_all_but_the_longest_are_redundant_to_it() {
    assertThat(
            REDUNDANT
                .index("ix_a", "berth (harbour_id)")
                .index("ix_ab", "berth (harbour_id, code)")
                .index("ix_abc", "berth (harbour_id, code, depth)")
                .findings())
        .extracting(Finding::title)
        .containsExactly(
            "ix_a is the head of ix_abc on berth", "ix_ab is the head of ix_abc on berth");
  }

  @Test
  void a_copy_is_reported_once_as_a_duplicate() {
    REDUNDANT.index("ix_a", "berth (harbour_id)").index("ix_b", "berth (harbour_id)").staysSilent();
  }

  /** MY-52: InnoDB's (d) is stored as (d,i1,i2). */
  @Test
  void an_appended_primary_key_makes_the_two_alike() {
    REDUNDANT
        .on(Dialects.mysql())
        .index("ix_a", "berth (harbour_id)")
        .index("ix_a_id", "berth (harbour_id, id)")
        .reports("ix_a is the head of ix_a_id", "price   none");
    REDUNDANT
        .index("ix_a_id", "berth (harbour_id, id)")
        .index("ix_ab", "berth (harbour_id, code)")
        .staysSilent();
  }

  @Test
  void an_order_by_the_appended_key_is_not_given_up() {
    REDUNDANT
        .on(Dialects.mysql())
        .index("ix_a", "berth (harbour_id)")
        .index("ix_ab", "berth (harbour_id, code)")
        .query("select id from berth where harbour_id = ? order by id limit 5")
        .staysSilent();
  }

  @Test
  void much_wider_entries_make_it_a_warning() {
    RuleTester.of(new RedundantIndex())
        .table("notice", "id bigint not null, berth_id bigint not null, body varchar(900) not null")
        .rows("notice", 1_000_000)
        .distinct("notice", "berth_id", 10)
        .index("ix_a", "notice (berth_id)")
        .index("ix_ab", "notice (berth_id, body)")
        .query("select count(*) from notice where berth_id = ?")
        .reports("warning", "ix_a is the head of ix_ab", "bytes instead of");
  }

  @Test
  void a_keeper_many_times_as_wide_makes_it_a_warning_even_unread() {
    RuleTester.of(new RedundantIndex())
        .table("notice", "id bigint not null, berth_id bigint not null, body varchar(400) not null")
        .index("ix_a", "notice (berth_id)")
        .index("ix_ab", "notice (berth_id, body)")
        .reports("warning", "no analysed query reads it");
  }

  @Test
  void a_hash_index_is_no_prefix() {
    REDUNDANT
        .ddl("create index ix_a on berth using hash (harbour_id)")
        .index("ix_ab", "berth (harbour_id, code)")
        .staysSilent();
  }
}
