package dev.colonnade.rules;

import dev.colonnade.dialect.Dialects;
import org.junit.jupiter.api.Test;

class SplitByOrTest {
  private static final RuleTester VESSEL =
      RuleTester.of(new SplitByOr())
          .on(Dialects.derby())
          .table(
              "vessel",
              "id bigint primary key, owner varchar(60) not null, agent varchar(60) not null,"
                  + " length_m integer not null, flag varchar(2) not null")
          .rows("vessel", 500_000)
          .distinct("vessel", "owner", 50_000)
          .distinct("vessel", "agent", 50_000)
          .index("ix_owner", "vessel (owner)")
          .index("ix_agent", "vessel (agent)");

  /** Derby tuning guide, "OR transformations": ORs over different columns are not united. */
  @Test
  void the_indexes_are_not_united() {
    VESSEL
        .query("select flag from vessel where owner = ? or agent = ?")
        .reports(
            "query   vessel: (owner = ? or agent = ?)",
            "path    full-table-scan vessel",
            "owner = ? alone: range-scan vessel ix_owner",
            "agent = ? alone: range-scan vessel ix_agent",
            "one select for each branch");
  }

  @Test
  void a_change_becomes_several_statements() {
    VESSEL
        .query("delete from vessel where owner = ? or agent = ?")
        .reports("one statement for each branch");
  }

  @Test
  void a_database_that_unites_them_needs_no_advice() {
    VESSEL
        .on(Dialects.postgresql())
        .query("select flag from vessel where owner = ? or agent = ?")
        .staysSilent();
    VESSEL
        .on(Dialects.sqlite())
        .query("select flag from vessel where owner = ? or agent = ?")
        .staysSilent();
  }

  @Test
  void one_branch_without_an_index_reads_everything_anyway() {
    VESSEL.query("select flag from vessel where owner = ? or length_m = ?").staysSilent();
  }

  @Test
  void one_column_is_a_list() {
    VESSEL.query("select flag from vessel where owner = ? or owner = ?").staysSilent();
  }

  @Test
  void a_branch_that_a_parameter_switches_off_is_no_branch() {
    VESSEL.query("select flag from vessel where ? is null or owner = ?").staysSilent();
  }

  @Test
  void another_condition_bounds_the_scan() {
    VESSEL.query("select flag from vessel where id = ? and (owner = ? or agent = ?)").staysSilent();
  }

  /** No supported database unites indexes of two tables: common practice. */
  @Test
  void branches_in_two_tables() {
    VESSEL
        .on(Dialects.postgresql())
        .table(
            "booking",
            "id bigint primary key, vessel_id bigint not null, reference varchar(20) not null,"
                + " note varchar(200)")
        .rows("booking", 2_000_000)
        .distinct("booking", "reference", 2_000_000)
        .distinct("booking", "vessel_id", 400_000)
        .index("ix_vessel", "booking (vessel_id)")
        .index("ix_reference", "booking (reference)")
        .query(
            "select b.note from booking b join vessel v on v.id = b.vessel_id"
                + " where v.owner = ? or b.reference = ?")
        .reports("v.owner = ? alone: range-scan vessel", "reference = ? alone: range-scan booking");
  }

  /** A branch that bounds nothing by itself is read as a whole however it is written. */
  @Test
  void a_branch_that_no_index_bounds_gains_nothing() {
    VESSEL
        .on(Dialects.postgresql())
        .table(
            "booking",
            "id bigint primary key, vessel_id bigint not null, reference varchar(20) not null,"
                + " note varchar(200)")
        .rows("booking", 2_000_000)
        .index("ix_vessel", "booking (vessel_id)")
        .index("ix_reference", "booking (reference)")
        .query(
            "select b.note from booking b join vessel v on v.id = b.vessel_id"
                + " where v.flag = ? or b.reference = ?")
        .staysSilent();
  }

  @Test
  void under_exists_nothing_can_be_united() {
    VESSEL
        .table("booking", "id bigint primary key, vessel_id bigint not null")
        .query(
            "select b.id from booking b where exists (select 1 from vessel v where v.owner = ? or"
                + " v.agent = ?)")
        .staysSilent();
  }
}
