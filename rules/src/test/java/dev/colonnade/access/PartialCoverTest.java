package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.published.SchemaNotation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import dev.colonnade.statistics.Statistics;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A partial index on SQLite supplies a column that its predicate fixes, though it is not stored;
 * not where the column's collation lets several values be equal. Asked of the planner itself.
 */
class PartialCoverTest {
  @ParameterizedTest
  @CsvSource({"text, true", "text collate nocase, false", "text collate rtrim, false"})
  void a_value_that_the_predicate_fixes_need_not_be_stored(String type, boolean covers)
      throws SQLException {
    String sql = "select a from t where a = 1 and c = 'x'";
    Schema schema =
        SchemaNotation.read(
            List.of("table t(a int, b int, c " + type + ")", "index ix on t(a) where c = 'x'"),
            Dialects.sqlite());
    QueryText text = new QueryText("q", SourceLocation.of("q.sql"), QuerySource.FILE, sql, sql);
    StatementReading reading = new StatementParser(schema, Dialects.sqlite()).parse(text);
    Candidate candidate =
        new AccessPathAnalyzer(schema, Dialects.sqlite(), Statistics.NONE)
            .analyze(((StatementReading.Analysed) reading).query())
            .tables()
            .get(0)
            .candidates()
            .get(0);
    assertThat(plan("create table t(a int, b int, c " + type + ")", sql))
        .contains(covers ? "USING COVERING INDEX ix" : "USING INDEX ix");
    assertThat(candidate.covering()).isEqualTo(covers);
  }

  private static String plan(String table, String sql) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite::memory:");
        Statement statement = connection.createStatement()) {
      statement.execute(table);
      statement.execute("create index ix on t(a) where c = 'x'");
      try (ResultSet rows = statement.executeQuery("explain query plan " + sql)) {
        return rows.next() ? rows.getString("detail") : "";
      }
    }
  }
}
