package dev.colonnade.schema.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.change.SchemaFold;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What blocks do with variables, and SQL Server with an index that is there already. */
class BlockVariablesTest {
  private static Schema schema(Dialect dialect, String sql) {
    SchemaFold fold = new SchemaFold(dialect);
    DdlResult result =
        new DdlReader(dialect).read(sql, Optional.empty(), offset -> SourceLocation.of("a.sql"));
    return fold.applyAll(result.changes()).schema();
  }

  /**
   * In a block, SELECT INTO sets variables
   * (https://www.postgresql.org/docs/18/plpgsql-statements.html; Oracle's PL/SQL Language
   * Reference, SELECT INTO Statement).
   */
  @Test
  void select_into_makes_no_table_in_a_block() {
    String block =
        """
        DECLARE n int;
        BEGIN
          SELECT count(*) INTO n FROM berth;
          IF n = 0 THEN SELECT 1 INTO n FROM dual; END IF;
        END;
        """;
    assertThat(schema(Dialects.postgresql(), "do $$ " + block + " $$;").tables()).isEmpty();
    assertThat(schema(Dialects.oracle(), block + "/\n").tables()).isEmpty();
    assertThat(schema(Dialects.postgresql(), "select 1 as a into berth from dual").tables())
        .hasSize(1);
  }

  /**
   * https://dev.mysql.com/doc/refman/8.4/en/invisible-indexes.html,
   * https://mariadb.com/kb/en/ignored-indexes/ and Oracle's CREATE INDEX: still kept up to date.
   */
  @Test
  void an_index_hidden_from_the_planner_is_listed() {
    assertThat(reasons(Dialects.mysql(), "create table a (x int, index i (x) invisible)"))
        .containsExactly("create index: hidden from the planner; read on as if it were not");
    assertThat(reasons(Dialects.mariadb(), "alter table a add index i (x) ignored")).hasSize(1);
    assertThat(reasons(Dialects.oracle(), "create index i on a (x) invisible")).hasSize(1);
    assertThat(reasons(Dialects.oracle(), "alter index i invisible"))
        .containsExactly("alter index: i is hidden from the planner; read on as if it were not");
    assertThat(reasons(Dialects.oracle(), "alter index i visible")).isEmpty();
  }

  private static List<String> reasons(Dialect dialect, String sql) {
    return new DdlReader(dialect)
        .read(sql, Optional.empty(), offset -> SourceLocation.of("a.sql")).notUnderstood().stream()
            .map(NotUnderstood::reason)
            .toList();
  }

  /** https://learn.microsoft.com/sql/t-sql/statements/create-index-transact-sql, DROP_EXISTING. */
  @Test
  void an_index_takes_the_place_of_another_in_sql_server() {
    Schema schema =
        schema(
            Dialects.mssql(),
            """
            create table berth (id int, depth int)
            GO
            create index ix on berth (id) with (drop_existing = off)
            GO
            create unique index ix on berth (depth) with (fillfactor = 90, drop_existing = on)
            GO
            """);
    assertThat(schema.tables().iterator().next().indexes())
        .singleElement()
        .satisfies(index -> assertThat(index.render()).isEqualTo("ix(depth)"))
        .satisfies(index -> assertThat(index.unique()).isTrue());
  }
}
