package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.published.SchemaNotation;
import dev.colonnade.query.Query;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import dev.colonnade.statistics.Statistics;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * What proves that a query may use a partial index, at the limits of each comparison. The rule is
 * the manual's ("Partial Indexes", PostgreSQL 18, chapter 11.8); the cases follow from the meaning
 * of the comparisons.
 */
class ImplicationTest {
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "x < 2      | x < 2       | true",
        "x < 2      | x <= 2      | false",
        "x < 2      | x <= 1      | true",
        "x < 2      | x < 3       | false",
        "x <= 2     | x <= 2      | true",
        "x <= 2     | x < 2       | true",
        "x <= 2     | x <= 3      | false",
        "x > 2      | x >= 2      | false",
        "x > 2      | x >= 3      | true",
        "x > 2      | x > 2       | true",
        "x > 2      | x > 1       | false",
        "x >= 2     | x > 2       | true",
        "x >= 2     | x >= 1      | false",
        "x <> 2     | x < 2       | true",
        "x <> 2     | x <= 2      | false",
        "x <> 2     | x > 2       | true",
        "x <> 2     | x = 3       | true",
        "x <> 2     | x = 2       | false",
        "x = 2      | x = 2       | true",
        "x = 2      | x in (2, 3) | false",
        "x in (1,2) | x = 2       | true",
        "x in (1,2) | x in (2, 3) | false",
        "x > 0 and x < 9 | x = 4  | true",
        "x > 0 and x < 9 | x < 4  | false",
        "x is not null | x > 1    | true",
        "x is not null | y > 1    | false",
        "x is not null | x = ?    | true",
        "x = 2      | x = ?       | false",
        "x < 2      | y < 2       | false"
      })
  void a_partial_index_is_used_only_where_its_predicate_is_proven(
      String predicate, String condition, boolean proven) {
    Schema schema =
        SchemaNotation.read(
            List.of("table t(a int, x int, y int)", "index ix on t(a) where " + predicate),
            Dialects.postgresql());
    String sql = "select y from t where a = 1 and " + condition;
    QueryText text = new QueryText("q", SourceLocation.of("q.sql"), QuerySource.FILE, sql, sql);
    StatementReading reading = new StatementParser(schema, Dialects.postgresql()).parse(text);
    Query query = ((StatementReading.Analysed) reading).query();
    Candidate candidate =
        new AccessPathAnalyzer(schema, Dialects.postgresql(), Statistics.NONE)
            .analyze(query)
            .tables()
            .get(0)
            .candidates()
            .get(0);
    assertThat(candidate.isUnusable()).isEqualTo(!proven);
  }
}
