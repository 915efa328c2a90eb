package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Finding;
import org.junit.jupiter.api.Test;

/** Ids such as PG-33 are rows of the project's list of published examples. */
class DuplicateIndexTest {
  private static final String BERTH =
      "id bigint not null, harbour_id bigint not null, code varchar(8) not null,"
          + " depth integer, open boolean, constraint pk_berth primary key (id)";

  private static final RuleTester DUPLICATE =
      RuleTester.of(new DuplicateIndex()).table("berth", BERTH);

  /** PG-33: "a hand-made index on the same columns only duplicates it". */
  @Test
  void the_index_of_a_unique_constraint_makes_one_by_hand_a_duplicate() {
    DUPLICATE
        .ddl("alter table berth add constraint uq_berth_code unique (code)")
        .index("ix_berth_code", "berth (code)")
        .reports(
            "error", "ix_berth_code repeats uq_berth_code", "fix     drop index ix_berth_code");
  }

  /** HS-09: "PK, unique and FK each create an index; duplicates waste memory". */
  @Test
  void the_index_of_a_foreign_key_makes_one_by_hand_a_duplicate() {
    RuleTester.of(new DuplicateIndex())
        .on(Dialects.hsqldb())
        .table("harbour", "id bigint not null, constraint pk_harbour primary key (id)")
        .table("berth", BERTH)
        .ddl(
            "alter table berth add constraint fk_berth_harbour foreign key (harbour_id)"
                + " references harbour (id)")
        .index("ix_berth_harbour", "berth (harbour_id)")
        .reports("ix_berth_harbour repeats", "foreign-key");
  }

  @Test
  void a_unique_index_stays_beside_a_plain_one() {
    DUPLICATE
        .index("a_plain", "berth (code)")
        .uniqueIndex("b_unique", "berth (code)")
        .reports("a_plain repeats b_unique", "drop index a_plain");
  }

  @Test
  void a_unique_constraint_on_the_primary_key_is_for_people_to_drop() {
    DUPLICATE
        .ddl("alter table berth add constraint uq_berth_id unique (id)")
        .reports("uq_berth_id repeats pk_berth", "drop the constraint behind uq_berth_id");
  }

  @Test
  void of_three_copies_two_are_reported() {
    assertThat(
            DUPLICATE
                .index("ix_a", "berth (code)")
                .index("ix_b", "berth (code)")
                .index("ix_c", "berth (code)")
                .findings())
        .extracting(Finding::title)
        .containsExactly("ix_b repeats ix_a on berth", "ix_c repeats ix_a on berth");
  }

  @Test
  void predicates_and_included_columns_make_a_difference() {
    DUPLICATE
        .ddl("create index ix_a on berth (code) where open")
        .index("ix_b", "berth (code)")
        .staysSilent();
    DUPLICATE
        .index("ix_a", "berth (code) include (depth)")
        .index("ix_b", "berth (code)")
        .staysSilent();
    DUPLICATE
        .index("ix_a", "berth (code) include (depth, open)")
        .index("ix_b", "berth (code) include (open, depth)")
        .reports("ix_b repeats ix_a");
  }

  @Test
  void operator_classes_make_a_difference() {
    DUPLICATE
        .index("ix_a", "berth (code text_pattern_ops)")
        .index("ix_b", "berth (code)")
        .staysSilent();
  }

  /** HS-06: "DESC in CREATE INDEX ignored". */
  @Test
  void a_direction_that_the_database_ignores_makes_no_difference() {
    DUPLICATE
        .on(Dialects.hsqldb())
        .index("ix_a", "berth (harbour_id, code desc)")
        .index("ix_b", "berth (harbour_id, code)")
        .reports("ix_b repeats ix_a");
  }

  @Test
  void one_reversed_column_of_two_is_another_order() {
    DUPLICATE
        .index("ix_a", "berth (harbour_id, code desc)")
        .index("ix_b", "berth (harbour_id, code)")
        .staysSilent();
  }

  /** NULLs last forwards are NULLs first backwards; PG-18 to PG-20. */
  @Test
  void nulls_turn_round_with_the_direction() {
    DUPLICATE
        .index("ix_a", "berth (depth)")
        .index("ix_b", "berth (depth desc nulls first)")
        .reports("ix_b repeats ix_a");
    DUPLICATE
        .index("ix_a", "berth (depth)")
        .index("ix_b", "berth (depth desc nulls last)")
        .staysSilent();
  }
}
