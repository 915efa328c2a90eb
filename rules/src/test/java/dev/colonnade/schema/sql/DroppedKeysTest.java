package dev.colonnade.schema.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.change.SchemaFold;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What goes and what stays when keys are dropped. */
class DroppedKeysTest {
  private static final String TABLES =
      """
      create table berth (id number constraint berth_pk primary key, code varchar2(9),
        constraint berth_code_uq unique (code));
      create table mooring (id number, berth_id number, code varchar2(9),
        constraint mooring_berth_fk foreign key (berth_id) references berth (id),
        constraint mooring_code_fk foreign key (code) references berth (code));
      """;

  private static Schema schema(String more) {
    SchemaFold fold = new SchemaFold(Dialects.oracle());
    DdlResult result =
        new DdlReader(Dialects.oracle())
            .read(TABLES + more, Optional.empty(), offset -> SourceLocation.of("a.sql"));
    fold.applyAll(result.changes());
    assertThat(result.notUnderstood()).isEmpty();
    assertThat(fold.notUnderstood()).isEmpty();
    return fold.schema();
  }

  private static Table table(Schema schema, String name) {
    return schema.table(new Identifier(name)).orElseThrow();
  }

  private static List<String> indexes(Schema schema) {
    return table(schema, "berth").indexes().stream().map(Index::render).toList();
  }

  private static List<String> references(Schema schema) {
    return table(schema, "mooring").foreignKeys().stream()
        .map(key -> key.columns().toString())
        .toList();
  }

  /** Oracle's SQL Language Reference, ALTER TABLE, drop_constraint_clause. */
  @Test
  void an_index_can_be_kept_in_oracle() {
    Schema schema = schema("alter table berth drop constraint berth_code_uq keep index;");
    assertThat(indexes(schema)).hasSize(2);
    assertThat(indexes(schema("alter table mooring drop constraint mooring_code_fk;"))).hasSize(2);
  }

  /** The same place: CASCADE drops dependent constraints; KEEP INDEX may stand behind it. */
  @Test
  void foreign_keys_go_with_the_key_that_they_refer_to() {
    Schema primary = schema("alter table berth drop primary key cascade keep index;");
    assertThat(references(primary)).containsExactly("[code]");
    assertThat(indexes(primary)).hasSize(2);
    Schema unique = schema("alter table berth drop constraint berth_code_uq cascade;");
    assertThat(references(unique)).containsExactly("[berth_id]");
    assertThat(indexes(unique)).hasSize(1);
  }
}
