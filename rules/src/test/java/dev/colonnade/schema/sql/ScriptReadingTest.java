package dev.colonnade.schema.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.change.SchemaFold;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * Whole scripts: where one statement ends and the next begins, and what stands in blocks, routines
 * and strings. The syntax is that of the vendors' manuals of each language.
 */
class ScriptReadingTest {
  private static final String BERTH = "create table berth (id int not null, quay int, code int);\n";

  private final List<String> reasons = new ArrayList<>();

  private List<String> indexes(String database, String script) {
    Dialect dialect = Dialects.byShortName(database).orElseThrow();
    String sql = BERTH + script;
    DdlResult result =
        new DdlReader(dialect)
            .read(
                sql,
                Optional.empty(),
                offset ->
                    SourceLocation.of(
                        "a.sql",
                        1 + (int) sql.substring(0, offset).chars().filter(c -> c == '\n').count()));
    SchemaFold fold = new SchemaFold(dialect);
    fold.applyAll(result.changes());
    List<NotUnderstood> all = new ArrayList<>(result.notUnderstood());
    all.addAll(fold.notUnderstood());
    all.forEach(entry -> reasons.add((entry.location().line() - 1) + " " + entry.reason()));
    return fold.schema().tables().stream()
        .flatMap(table -> table.indexes().stream())
        .map(Index::render)
        .toList();
  }

  @Test
  void a_backslash_quotes_in_strings_of_mysql_alone() {
    String script =
        "insert into berth values ('it\\'s; create index x on berth (id)'); create index a on berth (id);";
    assertThat(indexes("mysql", script)).containsExactly("a(id)");
    assertThat(
            indexes("postgresql", "insert into berth values ('\\'); create index a on berth (id);"))
        .containsExactly("a(id)");
    assertThat(
            indexes(
                "postgresql",
                "insert into berth values (E'\\'; drop table berth;'); create index a on berth (id);"))
        .containsExactly("a(id)");
    assertThat(reasons).isEmpty();
  }

  @Test
  void a_hash_starts_a_comment_in_mysql_alone() {
    assertThat(
            indexes("mariadb", "create index a on berth (id); #create index b on berth (quay);\n"))
        .containsExactly("a(id)");
    assertThat(indexes("postgresql", "create index a on berth ((code #>> '{a}'), id);")).hasSize(1);
    assertThat(reasons).isEmpty();
  }

  @Test
  void other_quotes_of_oracle_hold_any_text() {
    assertThat(
            indexes(
                "oracle",
                "insert into berth values (q'[it's; drop table berth;]'); create index a on berth (id);"))
        .containsExactly("a(id)");
    assertThat(reasons).isEmpty();
  }

  @Test
  void a_client_can_say_what_ends_a_statement() {
    String script =
        """
        DELIMITER //
        create procedure p() begin if 1 = 2 then drop table berth; end if; end //
        create index a on berth (id)//
        DELIMITER ;
        create index b on berth (quay);
        """;
    assertThat(indexes("mysql", script)).containsExactly("a(id)", "b(quay)");
    assertThat(reasons).isEmpty();
  }

  @Test
  void sql_server_needs_no_semicolon() {
    String script =
        """
        create index a on berth (id)
        create unique index b
          on berth (quay)
          where code > 1
        update berth
          set code = 1
          where id = 2
        alter table berth
          alter column code bigint not null
        alter table berth
          drop constraint if exists none
        create table #lately (id int)
        declare @n int
        select @n = count(*) from berth
        set nocount on
        create index c on berth (code) insert into berth values (1, 2, 3)
        exec sp_rename 'berth.a', 'd', 'INDEX'
        """;
    assertThat(indexes("mssql", script))
        .containsExactly("b(quay) where code > 1", "c(code)", "d(id)");
    assertThat(reasons).isEmpty();
  }

  @Test
  void sql_server_asks_before_it_makes_or_drops() {
    String script =
        """
        if not exists (select 1 from sys.indexes where name = 'a')
        begin
          create index a on berth (id)
          create index a2 on berth (id, code);
        end
        if not exists (select 1 from sys.indexes where name = 'a') create index a on berth (code)
        if object_id('dbo.tide') is not null drop table tide
        begin try
          create index a on berth (quay)
        end try
        begin catch
          drop table berth
        end catch
        if @@version like '%2016%' create index b on berth (quay)
        else create index c on berth (quay)
        while 1 = 0 drop index a on berth
        go
        create procedure p as
          drop table berth
          create table pilot (id int)
        go
        exec p
        exec ('create index d on berth (code)')
        declare @s nvarchar(100) = 'drop index ' + @x
        exec (@s)
        """;
    assertThat(indexes("mssql", script))
        .containsExactly("a(id)", "a2(id, code)", "b(quay)", "d(code)");
    assertThat(reasons)
        .containsExactly(
            "12 statement drop table berth: runs where another statement fails; left out",
            "14 statement create index b on: a condition cannot be decided here; taken to hold",
            "15 statement create index c on: runs where a condition does not hold; left out",
            "16 statement drop index a on: runs in a loop; left out",
            "22 call of p, which changes tables: it is not run",
            "25 execute: a statement put together when it runs may change tables or indexes");
  }

  @Test
  void blocks_of_postgresql_are_looked_through() {
    String script =
        """
        do $$
        begin
          create index a on berth (id);
          if not exists (select 1 from pg_indexes where indexname = 'b') then
            create index b on berth (quay);
          end if;
          update berth set code = case when id = 1 then 2 else 3 end;
          perform 1;
          execute 'create index c on berth (code)';
          execute format('grant select on %s to reader', 'berth');
        end
        $$ language plpgsql;
        do $$ begin
          alter table berth add constraint berth_u unique (quay, code);
        exception when duplicate_table then null;
        end $$;
        do $$ declare r record; begin
          for r in select * from pg_tables loop
            execute 'create index on ' || r.tablename || ' (id)';
          end loop;
        end $$;
        create function f() returns void as $$ begin drop table berth; end $$ language plpgsql;
        create function g() returns trigger as $$ begin return new; end $$ language plpgsql;
        select f();
        begin;
        create index d on berth (id, quay);
        commit;
        """;
    assertThat(indexes("postgresql", script))
        .containsExactly("a(id)", "b(quay)", "berth_u(quay, code)", "c(code)", "d(id, quay)");
    assertThat(reasons)
        .containsExactly(
            "19 execute: a statement put together when it runs may change tables or indexes",
            "24 call of f, which changes tables: it is not run");
  }

  @Test
  void blocks_of_oracle_are_looked_through() {
    String script =
        """
        begin
          execute immediate 'create index a on berth (id)';
        exception when others then
          if sqlcode != -955 then raise; end if;
        end;
        /
        declare
          n number;
        begin
          select count(*) into n from user_indexes where index_name = 'B';
          if n = 0 then
            execute immediate 'create index b on berth (quay)';
          end if;
        end;
        /
        create or replace package body tides as
          procedure high is begin null; end;
          function low return number is n number; begin return 1; end;
        end tides;
        /
        create or replace procedure p is
          n number;
          procedure q is begin null; end;
        begin
          for i in 1 .. 3 loop n := i; end loop;
          execute immediate 'drop table berth';
        end;
        /
        create or replace trigger t before insert on berth for each row
        declare n number; begin n := 1; end;
        /
        create index c on berth (code);
        """;
    assertThat(indexes("oracle", script)).containsExactly("a(id)", "b(quay)", "c(code)");
    assertThat(reasons).isEmpty();
  }

  @Test
  void bodies_end_where_their_last_end_stands() {
    String script =
        """
        create procedure p()
        begin
          declare n int default 0;
          tides: while n < 3 do set n = n + 1; end while;
          repeat set n = n - 1; until n = 0 end repeat;
          if n = 0 then drop index a on berth; else select repeat('a', 3); end if;
          case n when 1 then select 1; else select 2; end case;
        end;
        create trigger t before insert on berth for each row set new.code = 1;
        create index a on berth (id);
        """;
    assertThat(indexes("mysql", script)).containsExactly("a(id)");
    assertThat(reasons).isEmpty();
  }

  @Test
  void a_condition_as_key_is_not_taken_for_its_column() {
    assertThat(
            indexes(
                "postgresql",
                "create index a on berth ((id is null), (not code), (quay in (1, 2)) desc, id);"))
        .containsExactly("a(id IS NULL, NOT code, quay IN (1, 2) desc, id)");
    assertThat(reasons).isEmpty();
  }

  @Test
  void actions_need_no_comma_in_db2_and_oracle() {
    assertThat(
            indexes(
                "db2",
                "alter table berth add column tide int not null add constraint u unique (tide)"
                    + " alter column quay set data type bigint alter column code set not null;"
                    + "alter table berth drop constraint u drop column tide;"
                    + "alter table berth add constraint v unique (code);"))
        .containsExactly("v(code)");
    assertThat(
            indexes(
                "oracle",
                "alter table berth add (tide number(1), constraint u unique (tide)) modify (code not"
                    + " null) add constraint w unique (quay, code);"
                    + "alter table berth drop unique (tide);"
                    + "alter table berth set unused (tide);"))
        .containsExactly("w(quay, code)");
    assertThat(reasons).isEmpty();
  }

  @Test
  void indexes_stand_inside_tables_and_constraints() {
    assertThat(
            indexes(
                "mssql",
                "create table tide (id int, at date, constraint p primary key nonclustered (id),"
                    + " index i clustered (at), index f nonclustered (at, id) include (id) where id"
                    + " > 1, index u unique (id, at));"))
        .containsExactly("f(at, id) include (id) where id > 1", "i(at)", "p(id)", "u(id, at)");
    assertThat(
            indexes(
                "oracle",
                "alter table berth add constraint p primary key (id) using index (create unique"
                    + " index own on berth (id, code));"))
        .containsExactly("own(id, code)");
    assertThat(
            indexes(
                "mariadb",
                "alter table berth add index if not exists a (id), add index if not exists a (code);"
                    + "create or replace index a on berth (quay); alter ignore table berth add unique"
                    + " b (code), disable keys;"))
        .containsExactly("a(quay)", "b(code)");
    assertThat(reasons).isEmpty();
  }

  @Test
  void an_open_quote_does_not_swallow_the_rest_in_silence() {
    assertThat(
            indexes(
                "postgresql",
                "insert into berth values (1);\ncomment on table berth is 'it''s;\ncreate index a on"
                    + " berth (id);"))
        .isEmpty();
    assertThat(reasons).containsExactly("2 a quote that opens here is not closed");
  }

  @Test
  void if_exists_minds_no_missing_table() {
    assertThat(
            indexes(
                "postgresql",
                "alter table if exists tide add constraint u unique (at); alter table if exists berth"
                    + " add constraint v unique (code); alter table quay add constraint w unique (a);"))
        .containsExactly("v(code)");
    assertThat(reasons).containsExactly("1 unique constraint: no table quay at this point");
  }

  @Test
  void a_serial_of_mysql_is_unique_and_its_inline_references_are_ignored() {
    String script =
        "create table tide (n serial, code int references berth (id), primary key (code));";
    assertThat(indexes("mysql", script)).containsExactly("n(n)", "PRIMARY(code)");
    assertThat(indexes("mariadb", "create table tide (n int, code int references berth (n));"))
        .containsExactly("code(code)");
    assertThat(indexes("postgresql", script)).containsExactly("tide_pkey(code)");
    assertThat(reasons).isEmpty();
  }
}
