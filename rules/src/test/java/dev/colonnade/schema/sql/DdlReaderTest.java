package dev.colonnade.schema.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.change.RowsChanged;
import dev.colonnade.schema.change.SchemaChange.RowsLoaded;
import dev.colonnade.schema.change.SchemaFold;
import dev.colonnade.schema.change.SequenceChange;
import dev.colonnade.schema.change.TemporaryTable;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Statements of databases that no test starts. The expected indexes follow each vendor's manual of
 * CREATE INDEX, CREATE TABLE and ALTER TABLE; names are checked where the manual says them.
 */
class DdlReaderTest {
  private final List<NotUnderstood> notUnderstood = new ArrayList<>();

  private List<String> indexes(String database, String sql) {
    DdlReader reader = new DdlReader(Dialects.byShortName(database).orElseThrow());
    DdlResult result =
        reader.read(sql, Optional.empty(), offset -> SourceLocation.of("a.sql", 1 + offset));
    SchemaFold fold = new SchemaFold(Dialects.byShortName(database).orElseThrow());
    fold.applyAll(result.changes());
    notUnderstood.addAll(result.notUnderstood());
    notUnderstood.addAll(fold.notUnderstood());
    List<String> lines = new ArrayList<>();
    for (Table table : fold.schema().tables()) {
      for (Index index : table.indexes()) {
        lines.add(table.name() + " " + line(index));
      }
    }
    return lines;
  }

  private static String line(Index index) {
    String method = index.method() == IndexMethod.BTREE ? "" : index.method() + " ";
    String prefixes =
        index.keyColumns().stream().anyMatch(key -> key.prefixLength().isPresent())
            ? " prefixes "
                + index.keyColumns().stream()
                    .map(KeyColumn::prefixLength)
                    .map(length -> length.isPresent() ? "" + length.getAsInt() : "-")
                    .toList()
            : "";
    return (index.unique() ? "unique " : "")
        + (index.clustered() ? "clustered " : "")
        + method
        + index.render()
        + prefixes;
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '^',
      value = {
        "mysql|create table a (x int primary key, y varchar(99), key (y(10)), unique key u (y, x)"
            + " using btree, fulltext index f (y)) engine=InnoDB default charset=utf8|a FULLTEXT"
            + " f(y); a unique clustered PRIMARY(x); a unique u(y, x); a y(y) prefixes [10]",
        "mysql|create table a (x int, y int, index i (x desc) comment 'c'); alter table a add index"
            + " (y), add unique (y), add key (y, x), algorithm=inplace, lock=none|a i(x desc); a"
            + " y(y); a unique y_2(y); a y_3(y, x)",
        "mysql|create table p (id int primary key) ; create table a (x int, y int, constraint f"
            + " foreign key (x) references p (id)); create index i on a (x, y)|a i(x, y); p unique"
            + " clustered PRIMARY(id)",
        "mysql|create table p (id int primary key); create table a (x int, foreign key (x)"
            + " references p (id)); alter table a drop foreign key a_ibfk_1|a x(x); p unique"
            + " clustered PRIMARY(id)",
        "mysql|create table a (x int, y int); create index i on a (x, y); alter table a drop column"
            + " x|a i(y)",
        "mysql|create table a (x int, y int); create index i on a ((x + y), (lower(y)) desc)|a i(x"
            + " + y, lower(y) desc)",
        "mysql|create table `h`.`a b` (`x` int, unique `u` (`x`)); alter table `a b` rename index u"
            + " to v; drop index `v` on `a b`; create index w using hash on `a b` (x)|a b HASH"
            + " w(x)",
        "mysql|create table a (x int, y int); alter table a change x z bigint not null, add column"
            + " w int after y, add constraint u unique key (w)|a unique u(w)",
        "mariadb|create or replace table a (x int not null auto_increment, y int, primary key (x));"
            + " create index if not exists i on a (y); create index if not exists i on a (x); alter"
            + " table a drop index if exists j|a i(y); a unique clustered PRIMARY(x)",
        "mssql|create table [dbo].[a] ([x] int identity(1,1) not null, [y] nvarchar(20) null, z"
            + " int, constraint [pk_a] primary key clustered ([x] asc) with (pad_index = off) on"
            + " [PRIMARY]) on [PRIMARY]; create unique nonclustered index [u] on [dbo].[a] ([y]"
            + " asc, [z] desc) include ([x]) where ([y] is not null) with (online = on) on"
            + " [PRIMARY]|a unique clustered pk_a(x); a unique u(y, z desc) include (x) where ([y]"
            + " is not null)",
        "mssql|create table a (x int primary key nonclustered, y int); create clustered index c on"
            + " a (y); alter table a with nocheck add constraint u unique nonclustered (y); exec"
            + " sp_rename N'dbo.a.c', N'd', N'INDEX'; exec sp_rename 'a', 'b'|b clustered d(y); b"
            + " unique system_pk_a(x); b unique u(y)",
        "mssql|create table a (x int, y int); create nonclustered columnstore index cs on a (x, y);"
            + " insert into a values (1, 2)|a SPECIAL cs(x, y)",
        "mssql|create table a (x int, y int); if not exists (select 1 from sys.indexes where name ="
            + " 'i') create index i on a (y); if not exists (select 1 from sys.indexes where name ="
            + " N'i') create index i on a (x); if exists (select 1 from sys.indexes where name ="
            + " 'j') drop index j on a; if col_length('a', 'z') is null alter table a"
            + " add z int, y int; if object_id('b') is not null begin drop table b end|a i(y)",
        "oracle|create table a (x number(10) not null, y varchar2(20 char), z date, constraint a_pk"
            + " primary key (x) using index tablespace t1) tablespace t2; create bitmap index b on"
            + " a (y); create index r on a (z) reverse; create index l on a (upper(y), z desc)"
            + " local compress 1 online|a unique a_pk(x); a BITMAP b(y); a l(upper(y), z desc); a"
            + " REVERSE r(z)",
        "oracle|create table a (x number, y number); create index i on a (x, y); alter table a add"
            + " constraint p primary key (x) using index i; alter table a modify (y not null, x"
            + " default 0); alter table a drop (y)|",
        "oracle|create table a (x number, y varchar2(9)); create unique index u on a (case when y"
            + " is null then 'n' else y end, x)|a unique u(CASE WHEN y IS NULL THEN 'n' ELSE y END,"
            + " x)",
        "oracle|create table a (x number, y clob); create index t on a (y) indextype is"
            + " ctxsys.context parameters ('x'); alter table a add (z number, w number default 1"
            + " not null); create index i on a (z, w); alter index i rename to j|a j(z, w); a"
            + " FULLTEXT t(y)",
        "db2|create table a (x int not null generated always as identity, y varchar(9) for bit"
            + " data, primary key (x)); create unique index u on a (y asc) include (x) allow"
            + " reverse scans; create index c on a (y) cluster; alter table a add constraint k"
            + " unique (y)|a clustered c(y); a unique system_pk_a(x); a unique u(y) include (x)",
        "derby|create table a (x int not null, y int, constraint p primary key (x)); create index i"
            + " on a (y desc); rename column a.y to z; rename index i to j; alter table a add"
            + " foreign key (z) references a|a j(z desc); a unique p(x); a system_fk_a_z(z)",
        "hsqldb|create memory table a (x int primary key, y varchar(9)); create index i on a (y);"
            + " alter table a alter column y rename to z; alter index i rename to j; alter table a"
            + " add constraint f foreign key (x) references a (x)|a f(x); a j(z); a unique"
            + " system_pk_a(x)",
        "postgresql|create table a (x int, y text); create index on a using btree (x, (y collate"
            + " \"C\") desc nulls first) tablespace t; alter table a set (fillfactor = 70), owner"
            + " to h, replica identity full; create index i on a (y varchar_pattern_ops desc nulls"
            + " last)|a a_x_y_idx(x, y desc); a i(y desc)",
        "postgresql|create table a (doc jsonb, t tsvector); create index i on a ((doc ->> 'k'));"
            + " create index j on a (((doc -> 'k')::int)); create index g on a using gin"
            + " (to_tsvector('english', doc)); create index s on a using spgist (t)|a GIN"
            + " g(to_tsvector('english', doc)); a i(doc ->> 'k'); a j(cast(doc -> 'k' as int)); a"
            + " SPGIST s(t)",
        "sqlite|create table a (x integer primary key, y, z text collate nocase); create index i on"
            + " a (y collate nocase desc, z) where y > 5|a i(y desc, z) where y > 5; a unique"
            + " clustered rowid(x)",
      })
  void reads_definitions(String database, String sql, String expected) {
    List<String> lines = expected == null ? List.of() : List.of(expected.split("; ", -1));
    assertThat(indexes(database, sql)).containsExactlyInAnyOrderElementsOf(lines);
    assertThat(notUnderstood).allMatch(entry -> entry.reason().contains("refuses"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "insert into a values ('create index i on a (x)')",
        "update a set x = 1; delete from a; merge into a using b on (1 = 1)",
        "grant select on a to public; revoke all on a from b; comment on table a is 'x; y'",
        "set search_path to x; begin; commit; analyze a; vacuum a; truncate table a",
        "create sequence s; alter sequence s restart; drop sequence s",
        "create type t as enum ('a'); create extension if not exists pg_trgm; create schema h",
        "create or replace function f() returns int as $$ begin drop table a; end $$ language"
            + " plpgsql",
        "create trigger t before insert on a for each row begin update a set x = 1; end;",
        "create procedure p() begin declare x int; if x = 1 then drop table a; end if; end;",
        "declare x int; begin execute immediate 'grant select on a to b'; end;",
        "do $x$ begin perform 1; x := 'create'; raise notice 'drop it'; end $x$; select 1",
        "create user u; create role r; alter role r set x = 1; drop role r",
        "alter table a owner to b; alter table a enable row level security",
        "lock table a; copy a from stdin; call p(); refresh materialized view v",
        "create policy p on a using (true); create rule r as on insert to a do nothing",
        "create temporary table x (id int); drop temporary table x",
      })
  void passes_over_what_has_no_effect(String sql) {
    DdlResult result =
        new DdlReader(Dialects.postgresql())
            .read(sql, Optional.empty(), offset -> SourceLocation.of("a.sql"));
    assertThat(result.notUnderstood()).isEmpty();
    assertThat(result.changes())
        .allMatch(
            change ->
                change instanceof RowsLoaded
                    || change instanceof RowsChanged
                    || change instanceof TemporaryTable
                    || change instanceof SequenceChange);
  }

  @Test
  void passes_over_comments() {
    assertThat(indexes("mysql", "/* drop table a; */ -- create table (\n\n# create index\n"))
        .isEmpty();
    assertThat(notUnderstood).isEmpty();
  }

  @Test
  void goes_on_behind_a_statement_that_is_not_understood() {
    List<String> lines =
        indexes(
            "postgresql",
            "create table a (x int); create index i on a (x; moor the vessel; create index j on a"
                + " (x)");
    assertThat(lines).containsExactly("a j(x)");
    assertThat(notUnderstood)
        .extracting(NotUnderstood::reason)
        .containsExactly(
            "statement create index i on: a parenthesis is not closed at the end of the statement",
            "statement moor the vessel: not a statement that is understood at 'moor'");
    assertThat(notUnderstood).extracting(entry -> entry.location().line()).containsExactly(25, 49);
  }

  @Test
  void lists_keys_and_predicates_that_do_not_parse() {
    List<String> lines =
        indexes("postgresql", "create table a (x int); create index i on a ((x +)) where x ~~~ 5");
    assertThat(lines).hasSize(1);
    assertThat(notUnderstood).hasSize(2);
  }
}
