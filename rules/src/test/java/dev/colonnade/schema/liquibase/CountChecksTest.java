package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.util.Locale;
import java.util.SortedSet;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Preconditions that count rows, of tables and of catalogs: each change set below makes a table
 * when its precondition holds, and an update of a real database has to make the same tables.
 */
class CountChecksTest {
  private static final String FIRST =
      """
      databaseChangeLog:
      - changeSet:
          id: base
          author: harbour
          changes:
          - createTable:
              tableName: berth
              columns:
              - column: {name: id, type: int, constraints: {primaryKey: true}}
              - column: {name: code, type: int}
          - createTable:
              tableName: quay
              columns:
              - column: {name: id, type: int}
          - createIndex:
              tableName: berth
              indexName: berth_code
              columns:
              - column: {name: code}
          - insert:
              tableName: quay
              columns:
              - column: {name: id, valueNumeric: 1}
          - sql: insert into quay (id) values (2), (3)
      """;

  @TempDir Path directory;

  private static String check(String id, String expected, String sql) {
    return """
        - changeSet:
            id: %s
            author: harbour
            preConditions:
            - onFail: MARK_RAN
            - sqlCheck: {expectedResult: %s, sql: "%s"}
            changes:
            - createTable:
                tableName: made_%s
                columns:
                - column: {name: id, type: int}
        """
        .formatted(id, expected, sql, id);
  }

  private ChangelogResult read(Dialect dialect, String text) {
    return new ChangelogFixture(directory)
        .file("harbour.yaml", text)
        .root("harbour.yaml")
        .database(dialect)
        .read();
  }

  private static SortedSet<String> tables(Connection connection, String schema) throws Exception {
    SortedSet<String> names = new TreeSet<>();
    try (ResultSet tables =
        connection
            .getMetaData()
            .getTables(null, schema, null, new String[] {"TABLE", "BASE TABLE"})) {
      while (tables.next()) {
        String name = tables.getString("TABLE_NAME").toLowerCase(Locale.ROOT);
        if (RealSchema.isOurs(name)) {
          names.add(name);
        }
      }
    }
    return names;
  }

  private static SortedSet<String> tables(ChangelogResult result) {
    SortedSet<String> names = new TreeSet<>();
    result.schema().tables().forEach(table -> names.add(table.name().folded()));
    return names;
  }

  @Test
  void are_answered_as_postgresql_answers() throws Exception {
    String text =
        FIRST
            + check("a", "0", "select count(*) from berth")
            + check("b", "3", "SELECT COUNT(*) FROM quay;")
            + check("c", "1", "select count(*) from quay")
            + check("d", "0", "select count(1) from berth b where b.code = 5 and id > 3")
            + check("e", "0", "select count(*) from pg_indexes where indexname = 'berth_code'")
            + check(
                "f",
                "1",
                "select count(*) from pg_indexes where schemaname = 'public' and tablename = 'berth'"
                    + " and indexname = 'berth_code'")
            + check("g", "0", "select count(*) from pg_indexes where indexname = 'other'")
            + check(
                "h",
                "1",
                "select count(*) from information_schema.columns where table_name = 'berth' and"
                    + " column_name = 'code'")
            + check(
                "i",
                "1",
                "select count(*) from information_schema.tables where table_name = 'made_a'")
            + check(
                "j",
                "1",
                "select count(*) from information_schema.tables where table_name = 'made_c'")
            + check(
                "k",
                "1",
                "select count(*) from information_schema.table_constraints where constraint_name ="
                    + " lower('BERTH_PKEY')");
    ChangelogResult result = read(Dialects.postgresql(), text);
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    try (Connection connection = RealPostgres.newDatabase()) {
      RealSchema.update(connection, RealSchema.accessor(directory), null, "harbour.yaml");
      assertThat(tables(result))
          .isEqualTo(tables(connection, "public"))
          .contains("made_a", "made_b", "made_d", "made_f", "made_g", "made_h", "made_i", "made_k")
          .hasSize(10);
    }
  }

  @Test
  void are_answered_as_h2_answers() throws Exception {
    String text =
        FIRST
            + check("a", "0", "select count(*) from berth where id = 1")
            + check(
                "b",
                "1",
                "select count(*) from information_schema.tables where table_name = 'BERTH'")
            + check(
                "c",
                "0",
                "select count(*) from information_schema.columns where table_name = 'BERTH' and"
                    + " column_name = 'CODE'");
    ChangelogResult result = read(Dialects.h2(), text);
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    try (Connection connection = DriverManager.getConnection("jdbc:h2:mem:")) {
      RealSchema.update(connection, RealSchema.accessor(directory), null, "harbour.yaml");
      assertThat(tables(result))
          .isEqualTo(tables(connection, "PUBLIC"))
          .containsExactly("berth", "made_a", "made_b", "quay");
    }
  }

  @Test
  void stay_open_where_the_answer_is_not_certain() {
    String text =
        FIRST
            + check("a", "1", "select count(*) from quay where id = 1")
            + check("b", "1", "select count(*) from pg_indexes where indexname like 'berth%'")
            + check("c", "1", "select count(*) from pg_indexes where indexname = 'BERTH_CODE'")
            + check("d", "1", "select max(id) from quay")
            + """
            - changeSet:
                id: call
                author: harbour
                changes:
                - sql: select fill_the_berths()
            """
            + check("e", "0", "select count(*) from berth");
    assertThat(ChangelogFixture.reasons(read(Dialects.postgresql(), text)))
        .hasSize(5)
        .allMatch(line -> line.contains("a precondition cannot be decided here; taken to hold"));
  }
}
