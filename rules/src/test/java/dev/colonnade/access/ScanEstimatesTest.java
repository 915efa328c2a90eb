package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.published.SchemaNotation;
import dev.colonnade.published.StatisticsNotation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import java.util.List;
import org.junit.jupiter.api.Test;

/** How many entries a scan reads where that hangs on the database, and which index is preferred. */
class ScanEstimatesTest {
  private static final List<String> BERTHS =
      List.of(
          "table berth(id int not null, pier int not null, length int not null, depth int not null,"
              + " note varchar(80), primary key (id))",
          "index berth_pier_length on berth(pier, length)");

  private static AccessEstimate estimate(Dialect dialect, String statistics, String condition) {
    return access(dialect, BERTHS, statistics, condition).candidates().stream()
        .filter(it -> it.index().orElseThrow().name().text().equals("berth_pier_length"))
        .findFirst()
        .orElseThrow()
        .estimate();
  }

  private static TableAccess access(
      Dialect dialect, List<String> tables, String statistics, String condition) {
    Schema schema = SchemaNotation.read(tables, dialect);
    String sql = "select note from berth where " + condition;
    QueryText text = new QueryText("q", SourceLocation.of("q.sql"), QuerySource.FILE, sql, sql);
    StatementReading reading = new StatementParser(schema, dialect).parse(text);
    return new AccessPathAnalyzer(schema, dialect, StatisticsNotation.read(List.of(statistics)))
        .analyze(((StatementReading.Analysed) reading).query())
        .tables()
        .get(0);
  }

  /**
   * Counted by H2 2.5.252 ({@code scanCount} less the end of the scan) on 10,000 rows, 50 values of
   * the first column and 20 of the second: 1,000 entries for {@code > 45}, 20 for {@code = 1 and >
   * 18}.
   */
  @Test
  void h2_reads_the_entries_at_the_end_of_a_range_although_it_is_excluded() {
    String counts =
        "statistics berth rows=10000 pier.distinct=50 pier.min=0 pier.max=49 length.distinct=20"
            + " length.min=0 length.max=19";
    assertThat(estimate(Dialects.h2(), counts, "pier > 45").entries())
        .isCloseTo(1_000, within(0.1));
    assertThat(estimate(Dialects.h2(), counts, "pier = 1 and length > 18").entries())
        .isCloseTo(20, within(0.1));
    assertThat(estimate(Dialects.h2(), counts, "pier >= 45").entries())
        .isCloseTo(1_000, within(0.1));
    assertThat(estimate(Dialects.hsqldb(), counts, "pier > 45").entries())
        .isCloseTo(800, within(0.1));
  }

  /**
   * PostgreSQL 18.6 read 25 pages (buffers of a bitmap scan) for this condition on 60,000 rows with
   * 10 by 1,000 values at random. Before, all entries of the four piers are read.
   */
  @Test
  void postgresql_jumps_from_value_to_value_within_a_range() {
    String counts =
        "statistics berth rows=60000 pier.distinct=10 pier.min=0 pier.max=9 length.distinct=1000";
    String condition = "pier between 2 and 5 and length = 7";
    AccessEstimate skipping = estimate(Dialects.postgresql(), counts, condition);
    assertThat(skipping.entries()).isCloseTo(24, within(0.1));
    assertThat(skipping.indexPages() + skipping.tablePages()).isBetween(12.5, 50.0);
    AccessEstimate whole = estimate(Dialects.postgresqlBefore18(), counts, condition);
    assertThat(whole.entries()).isCloseTo(24_000, within(0.1));
    assertThat(whole.indexPages()).isGreaterThan(30);
  }

  @Test
  void no_jumps_within_a_range_where_it_is_not_known_how_many_values_it_has() {
    String counts = "statistics berth rows=60000 length.distinct=1000";
    String condition = "pier between 2 and 5 and length = 7";
    assertThat(estimate(Dialects.postgresql(), counts, condition))
        .isEqualTo(estimate(Dialects.postgresqlBefore18(), counts, condition));
  }
}
