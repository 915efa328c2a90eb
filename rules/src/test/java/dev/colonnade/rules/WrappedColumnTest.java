package dev.colonnade.rules;

import dev.colonnade.dialect.Dialects;
import org.junit.jupiter.api.Test;

/** Ids such as PG-35 are rows of the project's list of published examples. */
class WrappedColumnTest {
  private static final RuleTester VESSEL =
      RuleTester.of(new WrappedColumn())
          .table(
              "vessel",
              "id bigint primary key, name varchar(60) not null, built_at timestamp not null,"
                  + " length_m integer not null, flag varchar(2)")
          .rows("vessel", 100_000)
          .distinct("vessel", "name", 90_000)
          .index("ix_name", "vessel (name)")
          .index("ix_length", "vessel (length_m)");

  /** PG-36: (lower(col1)) and col1 do not serve each other. */
  @Test
  void a_function_hides_the_column() {
    VESSEL
        .query("select flag from vessel where lower(name) = ?")
        .reports(
            "query   vessel: lower(name) = ?",
            "path    full-table-scan vessel",
            "index   ix_name(name): sorted by name, not by lower(name)",
            "fix     store name in one case",
            "fix     create index vessel_lower_name_ix(lower(name)): range-scan vessel");
  }

  /** PG-14: a+1=6 is not indexable. */
  @Test
  void arithmetic_hides_the_column() {
    VESSEL
        .query("select flag from vessel where length_m + 1 = 6")
        .reports("bring the arithmetic to the other side, so that length_m stands alone");
  }

  @Test
  void arithmetic_on_the_other_side_does_not() {
    VESSEL.query("select flag from vessel where length_m = 6 - 1").staysSilent();
    VESSEL.query("select flag from vessel where length_m = ? + 1").staysSilent();
  }

  /** MA-34: DATE(dt) is not a "column = constant" term. */
  @Test
  void a_part_of_a_moment_becomes_a_range() {
    VESSEL
        .on(Dialects.mariadb())
        .query("select flag from vessel where date(built_at) = ?")
        .reports("compare built_at itself with a range");
  }

  @Test
  void a_cast_of_the_column_is_turned_round() {
    VESSEL
        .query("select flag from vessel where cast(length_m as varchar(9)) = ?")
        .reports("cast the value to the type of length_m instead of the column");
  }

  /** PG-35. */
  @Test
  void an_index_on_the_very_term_serves() {
    VESSEL
        .ddl("create index ix_lower on vessel (lower(name))")
        .query("select flag from vessel where lower(name) = ?")
        .staysSilent();
  }

  /** MY-31: 1+f1 is not f1+1. */
  @Test
  void an_index_on_another_term_does_not() {
    VESSEL
        .ddl("create index ix_sum on vessel ((1 + length_m))")
        .query("select flag from vessel where length_m + 1 = ?")
        .reports("wrapped-column");
  }

  @Test
  void no_expression_index_is_proposed_where_there_are_none() {
    VESSEL
        .on(Dialects.derby())
        .query("select flag from vessel where lower(name) = ?")
        .reports("fix     store name in one case");
    org.assertj.core.api.Assertions.assertThat(
            VESSEL
                .on(Dialects.derby())
                .query("select flag from vessel where lower(name) = ?")
                .findings()
                .get(0)
                .suggestions())
        .hasSize(1);
  }

  @Test
  void a_row_found_by_its_key_needs_no_more() {
    VESSEL.query("select flag from vessel where id = ? and lower(name) = ?").staysSilent();
    VESSEL.query("select flag from vessel where name = ? and length_m + 1 = ?").staysSilent();
  }

  @Test
  void a_function_in_the_select_list_hides_nothing() {
    VESSEL.query("select lower(name) from vessel where name = ?").staysSilent();
  }

  @Test
  void two_columns_in_one_term_are_left_alone() {
    VESSEL.query("select flag from vessel where length_m + id = ?").findings();
  }
}
