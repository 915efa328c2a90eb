package dev.colonnade.schema.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.change.SchemaFold;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * Constraints that Oracle has switched off have no index of their own, and indexes that it builds
 * anew (Oracle's SQL Language Reference, constraint, ALTER TABLE and ALTER INDEX; from memory).
 */
class SwitchedConstraintsTest {
  private static final String TABLES =
      """
      create table berth (id number not null constraint berth_pk primary key, code varchar2(9),
        constraint berth_code_uq unique (code));
      create table mooring (id number, berth_id number,
        constraint mooring_berth_fk foreign key (berth_id) references berth (id));
      """;

  private static Schema schema(String text) {
    SchemaFold fold = new SchemaFold(Dialects.oracle());
    DdlResult result =
        new DdlReader(Dialects.oracle())
            .read(text, Optional.empty(), offset -> SourceLocation.of("a.sql"));
    fold.applyAll(result.changes());
    assertThat(result.notUnderstood()).isEmpty();
    assertThat(fold.notUnderstood()).isEmpty();
    return fold.schema();
  }

  private static Table table(Schema schema, String name) {
    return schema.table(new Identifier(name)).orElseThrow();
  }

  private static List<String> indexes(String more) {
    return table(schema(TABLES + more), "berth").indexes().stream().map(Index::render).toList();
  }

  private static List<String> references(String more) {
    return table(schema(TABLES + more), "mooring").foreignKeys().stream()
        .map(key -> key.columns().toString())
        .toList();
  }

  @Test
  void a_key_that_is_switched_off_has_no_index() {
    assertThat(indexes("")).containsExactlyInAnyOrder("berth_pk(id)", "berth_code_uq(code)");
    assertThat(indexes("alter table berth disable constraint berth_code_uq;"))
        .containsExactly("berth_pk(id)");
    assertThat(indexes("alter table berth disable novalidate unique (code);"))
        .containsExactly("berth_pk(id)");
    assertThat(indexes("alter table berth modify constraint berth_code_uq disable;"))
        .containsExactly("berth_pk(id)");
    assertThat(indexes("alter table berth disable primary key cascade;"))
        .containsExactly("berth_code_uq(code)");
    assertThat(indexes("alter table berth modify primary key disable cascade;"))
        .containsExactly("berth_code_uq(code)");
  }

  @Test
  void its_index_can_stay() {
    assertThat(indexes("alter table berth disable constraint berth_code_uq keep index;"))
        .containsExactlyInAnyOrder("berth_pk(id)", "berth_code_uq(code)");
  }

  @Test
  void a_key_that_is_switched_on_again_has_its_index_again() {
    String off = "alter table berth disable constraint berth_code_uq;";
    assertThat(indexes(off + "alter table berth enable novalidate constraint berth_code_uq;"))
        .containsExactlyInAnyOrder("berth_pk(id)", "berth_code_uq(code)");
    assertThat(indexes(off + "alter table berth enable unique (code);"))
        .containsExactlyInAnyOrder("berth_pk(id)", "berth_code_uq(code)");
    assertThat(
            indexes(
                off
                    + "create index berth_code_ix on berth (code);"
                    + "alter table berth enable constraint berth_code_uq"
                    + " using index berth_code_ix;"))
        .containsExactlyInAnyOrder("berth_pk(id)", "berth_code_ix(code)");
    assertThat(
            indexes(
                "alter table berth disable primary key cascade;"
                    + "alter table berth enable primary key;"))
        .containsExactlyInAnyOrder("berth_code_uq(code)", "berth_pk(id)");
  }

  /** What is in force already stays as it is, and one that is off can be dropped. */
  @Test
  void says_nothing_of_what_changes_nothing() {
    assertThat(indexes("alter table berth enable constraint berth_code_uq;")).hasSize(2);
    String off = "alter table berth disable constraint berth_code_uq;";
    assertThat(indexes(off + off)).hasSize(1);
    assertThat(
            indexes(
                off
                    + "alter table berth drop constraint berth_code_uq;"
                    + "alter table berth enable constraint berth_code_uq;"))
        .hasSize(1);
    assertThat(
            indexes(
                "alter table berth disable primary key cascade;"
                    + "alter table berth drop primary key;"))
        .hasSize(1);
  }

  @Test
  void foreign_keys_are_switched_as_well() {
    assertThat(references("")).containsExactly("[berth_id]");
    assertThat(references("alter table mooring disable constraint mooring_berth_fk;")).isEmpty();
    assertThat(references("alter table berth disable primary key cascade;")).isEmpty();
    assertThat(
            references(
                "alter table mooring disable constraint mooring_berth_fk;"
                    + "alter table mooring enable validate constraint mooring_berth_fk;"))
        .containsExactly("[berth_id]");
  }

  @Test
  void constraints_can_be_made_switched_off() {
    Schema schema =
        schema(
            """
            create table tide (id number primary key disable, at date unique, mark number unique
              not null disable, height number constraint tide_height_uq unique using index disable,
              berth_id number, port number,
              constraint tide_uq unique (berth_id, port) disable validate);
            alter table tide add constraint tide_port_uq unique (port) using index tablespace x
              disable;
            """);
    Table tide = table(schema, "tide");
    assertThat(tide.indexes())
        .extracting(Index::render)
        .containsExactly("system_uk_tide_at(at)", "system_uk_tide_mark(mark)");
    assertThat(tide.primaryKey()).isEmpty();
    assertThat(tide.isNullable(new Identifier("mark"))).isTrue();
  }

  @Test
  void other_things_can_be_switched_without_effect() {
    assertThat(
            indexes(
                "alter table berth disable all triggers; alter table berth enable row movement;"
                    + "alter table berth disable table lock;"))
        .hasSize(2);
  }

  @Test
  void an_index_built_anew_can_have_its_keys_reversed_or_not() {
    String index = "create index berth_ix on berth (id, code);";
    assertThat(method(index + "alter index berth_ix rebuild reverse;"))
        .isEqualTo(IndexMethod.REVERSE);
    assertThat(method("create index berth_ix on berth (id, code) reverse;"))
        .isEqualTo(IndexMethod.REVERSE);
    assertThat(
            method(
                "create index berth_ix on berth (id, code) reverse;"
                    + "alter index harbour.berth_ix rebuild noreverse;"))
        .isEqualTo(IndexMethod.BTREE);
    assertThat(method(index + "alter index berth_ix rebuild online;")).isEqualTo(IndexMethod.BTREE);
  }

  private static IndexMethod method(String more) {
    return table(schema(TABLES + more), "berth")
        .index(new Identifier("berth_ix"))
        .orElseThrow()
        .method();
  }
}
