package dev.colonnade.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.measure.PlannedRead.Bound;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.Query;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

final class PlanComparisonTest {
  private static final SourceLocation PLACE = SourceLocation.of("booking.sql");
  private static final Bound BERTH = new Bound("berth", true);
  private static final Bound DAY = new Bound("day", false);

  private static List<Difference> differences(
      String sql, double rows, boolean sorts, PlannedRead... reads) {
    Table table =
        new Table(
            Identifier.of("booking"),
            Optional.empty(),
            Stream.of("berth", "day", "fee").map(PlanComparisonTest::column).toList(),
            List.of(),
            List.of(),
            List.of(index("booking_ix", "berth", "day"), index("day_ix", "day")),
            PLACE);
    Schema schema = new Schema(List.of(table), List.of());
    Query query =
        ((StatementReading.Analysed)
                new StatementParser(schema, Dialects.postgresql())
                    .parse(new QueryText("q", PLACE, QuerySource.FILE, sql, sql)))
            .query();
    AccessPathAnalyzer analyzer =
        new AccessPathAnalyzer(
            schema,
            Dialects.postgresql(),
            new Statistics(
                Map.of(
                    table.name(),
                    new TableStatistics(
                        OptionalDouble.of(rows), OptionalDouble.empty(), Map.of()))));
    return new PlanComparison(analyzer, analyzer.analyze(query))
        .differences(new PlannedReads(List.of(reads), sorts));
  }

  private static Column column(String name) {
    return new Column(
        Identifier.of(name), ColumnType.of("integer", TypeFamily.INTEGER), false, Optional.empty());
  }

  private static Index index(String name, String... columns) {
    return Index.of(
        name, "booking", false, Stream.of(columns).map(KeyColumn::ascending).toList(), PLACE);
  }

  private static PlannedRead through(String index, Bound... bounds) {
    return PlannedRead.through("booking", index).withBounds(Optional.of(List.of(bounds)));
  }

  @Test
  void the_same_is_no_difference() {
    assertThat(
            differences(
                "select day from booking where berth = 1 and day > 7 order by day",
                500_000,
                false,
                through("booking_ix", BERTH, DAY).withCovering(true)))
        .isEmpty();
  }

  @Test
  void seeking_on_less_and_on_more_is_told() {
    String sql = "select fee from booking where berth = 1 and day > 7";

    assertThat(differences(sql, 500_000, true, through("booking_ix", BERTH)))
        .extracting(Difference::kind, Difference::text)
        .containsExactly(
            tuple(
                Difference.Kind.PATH,
                "table booking through booking_ix: the planner seeks on [berth], predicted [berth,"
                    + " day]"));
    assertThat(
            differences(
                "select fee from booking where berth = 1",
                500_000,
                true,
                through("booking_ix", BERTH, DAY)))
        .extracting(Difference::text)
        .containsExactly(
            "table booking through booking_ix: the planner seeks on [berth, day], predicted"
                + " [berth]");
  }

  @Test
  void rows_fetched_and_a_sort_are_told() {
    assertThat(
            differences(
                "select day from booking where berth = 1 order by day",
                500_000,
                true,
                through("booking_ix", BERTH).withCovering(false)))
        .extracting(Difference::text)
        .containsExactly(
            "table booking through booking_ix: the rows are fetched, predicted: the index alone"
                + " answers",
            "table booking through booking_ix: the rows are sorted, predicted: the index brings"
                + " the order");
  }

  @Test
  void of_the_index_that_is_taken_the_prediction_is_told() {
    assertThat(
            differences(
                "select fee from booking where berth = 1 and day > 7",
                500_000,
                true,
                through("day_ix")))
        .extracting(Difference::kind)
        .containsExactly(Difference.Kind.CHOICE, Difference.Kind.PATH);
  }

  @Test
  void another_choice_on_a_small_table_is_told_as_such() {
    String sql = "select fee from booking where berth = 1";

    assertThat(differences(sql, 100, true, PlannedRead.whole("booking")))
        .extracting(Difference::kind, Difference::small)
        .containsExactly(tuple(Difference.Kind.CHOICE, true));
    assertThat(differences(sql, 500_000, true, PlannedRead.whole("booking")))
        .extracting(Difference::kind, Difference::small)
        .containsExactly(tuple(Difference.Kind.CHOICE, false));
  }

  @Test
  void what_the_plan_does_not_tell_is_not_compared() {
    assertThat(
            differences(
                "select fee from booking where berth = 1 and day > 7",
                500_000,
                true,
                PlannedRead.through("booking", "booking_ix").withAfter(Set.of("unknown"))))
        .isEmpty();
  }
}
