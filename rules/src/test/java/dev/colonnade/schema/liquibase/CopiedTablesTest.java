package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.schema.Schema;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.Statement;
import java.util.SortedSet;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Tables that take their columns and indexes from other tables or from queries, compared with the
 * catalog of PostgreSQL 18 after Liquibase's own update.
 */
class CopiedTablesTest {
  private static final String SCRIPT =
      """
      --liquibase formatted sql
      --changeset harbour:1
      create table vessel (id bigint not null primary key, name varchar(40) not null, kind int);
      create index vessel_kind on vessel (kind) where kind > 0;
      create unique index vessel_name on vessel (lower(name));
      create table vessel_copy (like vessel);
      create table vessel_twin (like vessel including all, extra int unique);
      create table vessel_bare (like vessel including all excluding indexes);
      create table vessel_steam (boilers int) inherits (vessel);
      --changeset harbour:2
      create table tide (at date not null, berth int not null, height numeric(5, 2),
        primary key (at, berth)) partition by range (at);
      create table tide_2030 partition of tide for values from ('2030-01-01') to ('2031-01-01');
      create index on tide (berth, height desc);
      create table tide_2031 partition of tide for values from ('2031-01-01') to ('2032-01-01');
      create table tide_2032 (at date not null, berth int not null, height numeric(5, 2));
      create index tide_2032_own on tide_2032 (berth, height desc);
      alter table tide attach partition tide_2032 for values from ('2032-01-01') to ('2033-01-01');
      create index tide_height on tide (height);
      alter table tide add column note text;
      create table tide_2033 (like tide including all);
      alter table tide rename column berth to quay;
      create index tide_gone on tide (note);
      drop index tide_gone;
      --changeset harbour:3
      create table kinds as select kind, count(*) as vessels, lower(name) from vessel group by 1, 3;
      create index kinds_ix on kinds (vessels, lower);
      create table everything (a, b) as select * from vessel;
      create index everything_ix on everything (b, kind);
      select v.id, t.height as h into joined from vessel v join tide t on t.quay = v.kind;
      create index joined_ix on joined (h);
      create materialized view busy as select v.*, 1 as one from vessel v with no data;
      create index busy_ix on busy (kind, one);
      --changeset harbour:4 splitStatements:false
      do $$ begin
        if not exists (select 1 from pg_indexes where indexname = 'vessel_late') then
          create index vessel_late on vessel (kind, id);
        end if;
        execute 'create index vessel_text on vessel (name)';
      exception when duplicate_table then null;
      end $$;
      --changeset harbour:5
      create extension if not exists btree_gist;
      alter table vessel add exclude using gist (kind with =, id with <>) where (kind is not null);
      """;

  @TempDir Path directory;

  @Test
  void have_the_columns_and_indexes_of_postgresql() throws Exception {
    ChangelogFixture fixture =
        new ChangelogFixture(directory).file("harbour.sql", SCRIPT).root("harbour.sql");
    ChangelogResult result = fixture.database(Dialects.postgresql()).read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    try (Connection connection = RealPostgres.newDatabase()) {
      RealSchema.update(connection, RealSchema.accessor(directory), null, "harbour.sql");
      assertThat(DerivedSchema.indexes(result.schema()))
          .isEqualTo(RealIndexes.postgresql(connection));
      assertThat(columns(result.schema())).isEqualTo(columns(connection));
    }
  }

  private static SortedSet<String> columns(Schema schema) {
    SortedSet<String> lines = new TreeSet<>();
    schema
        .tables()
        .forEach(
            table ->
                table.columns().forEach(column -> lines.add(table.name() + "." + column.name())));
    return lines;
  }

  /** Of tables, partitioned tables and materialized views. */
  private static SortedSet<String> columns(Connection connection) throws Exception {
    SortedSet<String> lines = new TreeSet<>();
    try (Statement statement = connection.createStatement();
        var rows =
            statement.executeQuery(
                """
                select c.relname || '.' || a.attname
                  from pg_attribute a
                  join pg_class c on c.oid = a.attrelid
                  join pg_namespace n on n.oid = c.relnamespace
                 where n.nspname = 'public' and a.attnum > 0 and not a.attisdropped
                   and c.relkind in ('r', 'p', 'm')
                """)) {
      while (rows.next()) {
        if (RealSchema.isOurs(rows.getString(1))) {
          lines.add(rows.getString(1));
        }
      }
    }
    return lines;
  }
}
