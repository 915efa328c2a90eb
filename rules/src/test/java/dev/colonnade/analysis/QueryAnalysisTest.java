package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.schema.Schema;
import dev.colonnade.statistics.Statistics;
import org.junit.jupiter.api.Test;

class QueryAnalysisTest {
  private static final Dialect DIALECT = Dialects.postgresql();

  private final QueryAnalysis queries =
      new QueryAnalysis(
          new StatementParser(Schema.EMPTY, DIALECT),
          new AccessPathAnalyzer(Schema.EMPTY, DIALECT, Statistics.NONE));

  private static QueryText text(String id, String sql) {
    return new QueryText(id, SourceLocation.of("tide.sql", 3), QuerySource.FILE, sql, sql);
  }

  /** A text that is not there at all stands for any failure that nobody foresaw. */
  @Test
  void a_failure_that_nobody_foresaw_is_an_entry_and_the_others_go_on() {
    queries.add(text("broken", null));
    queries.add(text("fine", "select 1"));
    assertThat(queries.notAnalysed())
        .singleElement()
        .satisfies(
            entry -> {
              assertThat(entry.id()).isEqualTo("broken");
              assertThat(entry.location()).hasToString("tide.sql:3");
              assertThat(entry.reason()).startsWith("unexpected NullPointerException");
            });
    assertThat(queries.analysed())
        .extracting(access -> access.query().id())
        .containsExactly("fine");
  }

  @Test
  void a_text_that_does_not_parse_is_an_entry_each_time() {
    queries.add(text("first", "select frm"));
    queries.add(text("second", "select frm"));
    assertThat(queries.notAnalysed())
        .extracting(UnanalysedQuery::id)
        .containsExactly("first", "second");
  }
}
