package dev.colonnade.report;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

class ExplainReportTest {
  private static final SourceLocation PLACE = SourceLocation.of("harbour.xml", 4);

  private static Column column(String name, TypeFamily family) {
    return Column.of(name, ColumnType.of(family.name(), family), false);
  }

  private static Table booking(Index... indexes) {
    return new Table(
        Identifier.of("booking"),
        Optional.empty(),
        List.of(
            column("id", TypeFamily.BIG_INTEGER),
            column("berth_id", TypeFamily.BIG_INTEGER),
            column("fee", TypeFamily.INTEGER),
            column("remark", TypeFamily.TEXT)),
        List.of(Identifier.of("id")),
        List.of(),
        List.of(indexes),
        PLACE);
  }

  private static Index index(String name, String... columns) {
    return Index.of(
        name,
        "booking",
        false,
        List.of(columns).stream().map(KeyColumn::ascending).toList(),
        PLACE);
  }

  private static final Index PRIMARY =
      Index.of("booking_pk", "booking", true, List.of(KeyColumn.ascending("id")), PLACE)
          .withOrigin(IndexOrigin.PRIMARY_KEY);

  private static List<String> explain(Table table, String sql) {
    Schema schema = new Schema(List.of(table), List.of());
    Statistics statistics =
        new Statistics(
            Map.of(
                Identifier.of("booking"),
                new TableStatistics(
                    OptionalDouble.of(100_000),
                    OptionalDouble.of(200),
                    Map.of(Identifier.of("berth_id"), ColumnStatistics.distinct(500)))));
    AccessPathAnalyzer analyzer = new AccessPathAnalyzer(schema, Dialects.postgresql(), statistics);
    QueryText text =
        new QueryText(
            "harbour.Bookings.fees",
            SourceLocation.of("Bookings.java", 12),
            QuerySource.ANNOTATION,
            sql,
            sql);
    StatementReading reading = new StatementParser(schema, Dialects.postgresql()).parse(text);
    return ExplainReport.lines(
        analyzer.analyze(((StatementReading.Analysed) reading).query()), analyzer);
  }

  @Test
  void every_index_is_shown_with_its_path_and_what_it_reads() {
    List<String> lines =
        explain(
            booking(PRIMARY, index("booking_fee_berth_ix", "fee", "berth_id")),
            "select sum(fee) from booking where berth_id = :berth");
    assertThat(lines)
        .startsWith(
            "query    harbour.Bookings.fees",
            "at       Bookings.java:12",
            "text     select sum(fee) from booking where berth_id = :berth",
            "",
            "block 1, table 1: booking",
            "  asks    booking: berth_id = ?",
            "  needs   berth_id, fee")
        .anyMatch(line -> line.matches("  table   100000 rows \\(declared\\) on \\d+ pages"))
        .anyMatch(line -> line.matches(" +index +path +matching +screening +missing .*"))
        .anyMatch(
            line ->
                line.matches(
                    " +booking_fee_berth_ix\\(fee, berth_id\\) +full-index-scan +- +berth_id"
                        + " +nothing +100000 .* leading column fee is not bound"))
        .anyMatch(
            line ->
                line.matches(
                    " +booking_pk\\(id\\) +full-table-scan +- +- +berth_id, fee +- +- .*"));
  }

  @Test
  void the_order_that_reads_least_is_the_one_to_take() {
    List<String> lines =
        explain(
            booking(PRIMARY, index("booking_fee_berth_ix", "fee", "berth_id")),
            "select sum(fee) from booking where berth_id = :berth");
    assertThat(position(lines, " +berth_id, fee +index-only-range-scan +berth_id +200 .*"))
        .isBetween(0, position(lines, " +fee, berth_id +full-index-scan +- +100000 .*"));
    assertThat(lines)
        .anyMatch(line -> line.matches(" +fee, berth_id .* booking_fee_berth_ix"))
        .anyMatch(
            line -> line.startsWith("  take    (berth_id include fee): index-only-range-scan"))
        .anyMatch(line -> line.matches("  price   \\d+ pages for 100000 rows \\(declared\\), .*"))
        .anyMatch(line -> line.startsWith("  caution building it reads the whole table"));
  }

  @Test
  void nothing_is_to_be_built_where_the_order_is_there() {
    List<String> lines =
        explain(
            booking(PRIMARY, index("booking_berth_fee_ix", "berth_id", "fee")),
            "select sum(fee) from booking where berth_id = :berth");
    assertThat(lines)
        .anyMatch(line -> line.startsWith("  take    ") && line.contains("is there"))
        .noneMatch(line -> line.startsWith("  price") || line.startsWith("  caution"));
  }

  @Test
  void each_use_of_a_table_and_each_branch_of_an_or_has_its_lines() {
    List<String> lines =
        explain(
            booking(PRIMARY, index("booking_berth_ix", "berth_id"), index("booking_fee_ix", "fee")),
            "select b.remark from booking b where (berth_id = :berth or fee = 3)"
                + " and exists (select 1 from booking x where x.fee = b.fee and x.id <> b.id)");
    assertThat(lines)
        .contains("block 1, table 1: booking as b", "block 2, table 1: booking as x")
        .anyMatch(line -> line.startsWith("  branch  range-scan booking booking_berth_ix(berth_id"))
        .anyMatch(line -> line.startsWith("  branch  range-scan booking booking_fee_ix(fee"))
        .anyMatch(line -> line.matches("  times   [\\d.]+, once for each row read before"));
  }

  @Test
  void the_tables_that_feed_one_are_named() {
    List<String> lines =
        explain(
            booking(PRIMARY, index("booking_berth_ix", "berth_id")),
            "select b.fee from booking a join booking b on b.berth_id = a.id + 1 cross join booking"
                + " c where a.id = 7 and exists (select 1 from booking x where x.berth_id = b.fee"
                + " and x.id > a.fee)");
    assertThat(lines.get(position(lines, ".*table 1: booking as a") + 2)).startsWith("  needs");
    assertThat(lines.get(position(lines, ".*: booking as b") + 2)).isEqualTo("  fed by  a");
    assertThat(lines.get(position(lines, ".*: booking as c") + 2))
        .isEqualTo("  fed by  no table: nothing of those read before bounds it");
    assertThat(lines.get(position(lines, ".*: booking as x") + 2)).isEqualTo("  fed by  a, b");
  }

  @Test
  void a_table_without_index_and_a_query_without_condition_are_said_so() {
    List<String> lines = explain(booking(), "select * from booking");
    assertThat(lines)
        .contains("  The table has no index.")
        .anyMatch(
            line -> line.startsWith("  take    none") || line.contains("nothing here bounds"));
  }

  private static int position(List<String> lines, String regex) {
    for (int i = 0; i < lines.size(); i++) {
      if (lines.get(i).matches(regex)) {
        return i;
      }
    }
    return -1;
  }
}
