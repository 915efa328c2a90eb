package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Indexes as a dump writes them: PostgreSQL puts casts around columns of type VARCHAR and around
 * strings, which change nothing (https://www.postgresql.org/docs/18/sql-createcast.html, binary
 * coercible), so that queries without them are served.
 */
class DumpedIndexesTest {
  @TempDir Path directory;

  private ChangelogFixture fixture(String sql) {
    return new ChangelogFixture(directory)
        .file("root.sql", "--liquibase formatted sql\n--changeset a:1\n" + sql)
        .root("root.sql");
  }

  @Test
  void casts_that_change_nothing_are_not_part_of_the_key() {
    ChangelogFixture fixture =
        fixture(
            """
            CREATE TABLE public.berth (
                id bigint NOT NULL,
                code character varying(12),
                zone character(3),
                state character varying DEFAULT 'free'::character varying NOT NULL
            );
            CREATE INDEX a ON public.berth USING btree (lower((code)::text));
            CREATE INDEX b ON public.berth USING btree (((zone)::text));
            CREATE INDEX c ON public.berth USING btree (((id)::text));
            CREATE INDEX d ON public.berth USING btree (COALESCE(code, 'none'::character varying));
            CREATE INDEX e ON public.berth USING btree (id) WHERE ((state)::text = 'free'::text);
            CREATE INDEX f ON public.berth USING btree (id) WHERE ((state)::text = ANY ((ARRAY['free'::character varying, 'taken'::character varying])::text[]));
            """);
    assertThat(fixture.table("berth"))
        .filteredOn(line -> line.startsWith("index ") && !line.contains(" where "))
        .containsExactly(
            "index a(lower(code)) create-index 9",
            "index b(cast(zone as text)) create-index 10",
            "index c(cast(id as text)) create-index 11",
            "index d(coalesce(code, 'none')) create-index 12");
    assertThat(fixture.read().schema().table(new Identifier("berth")).orElseThrow().indexes())
        .flatExtracting(index -> index.predicate().stream().map(Predicate::render).toList())
        .containsExactly("state = 'free'", "state in ('free', 'taken')");
    assertThat(ChangelogFixture.reasons(fixture.read())).isEmpty();
  }

  @Test
  void an_index_on_the_table_alone_is_made_for_each_partition_by_hand() {
    ChangelogFixture fixture =
        fixture(
            """
            create table reading (station int not null, taken date not null) partition by range (taken);
            create table reading_2024 (station int not null, taken date not null);
            create table reading_2025 (station int not null, taken date not null);
            alter table only reading attach partition reading_2024 for values from ('2024-01-01') to ('2025-01-01');
            alter table only reading attach partition reading_2025 for values from ('2025-01-01') to ('2026-01-01');
            create index reading_ix on only reading (station);
            create index part_ix on reading_2024 (station);
            alter index reading_ix attach partition part_ix;
            alter table only reading add constraint reading_pk primary key (station, taken);
            """);
    assertThat(fixture.table("reading")).contains("index reading_ix(station) create-index 8");
    assertThat(fixture.table("reading_2024")).contains("index part_ix(station) create-index 9");
    assertThat(fixture.table("reading_2025")).noneMatch(line -> line.contains("create-index"));
    assertThat(fixture.table("reading_2024")).noneMatch(line -> line.contains("primary-key"));
    assertThat(ChangelogFixture.reasons(fixture.read())).isEmpty();
  }

  @Test
  void what_happens_to_a_temporary_table_leaves_no_trace() {
    ChangelogFixture fixture =
        fixture(
            """
            create temporary table scratch (id int);
            create index scratch_ix on scratch (id);
            alter table scratch add column name text;
            drop table scratch;
            drop table scratch cascade;
            """);
    assertThat(fixture.read().schema().tables()).isEmpty();
    assertThat(ChangelogFixture.reasons(fixture.read()))
        .containsExactly("root.sql:7 drop table: no table scratch at this point");
  }
}
