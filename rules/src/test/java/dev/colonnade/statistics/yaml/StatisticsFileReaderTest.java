package dev.colonnade.statistics.yaml;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

final class StatisticsFileReaderTest {
  @TempDir Path base;

  private StatisticsFile read(String text) throws IOException, StatisticsFileException {
    Path file = base.resolve("colonnade/statistics.yaml");
    Files.createDirectories(file.getParent());
    return new StatisticsFileReader(base).read(Files.writeString(file, text));
  }

  private static List<String> problems(StatisticsFile file) {
    return file.problems().stream()
        .map(it -> it.location().line() + ":" + it.location().column() + " " + it.reason())
        .toList();
  }

  @Test
  void bounds_groups_and_clustering_are_read() throws Exception {
    StatisticsFile file =
        read(
            """
            formatVersion: 1
            tables:
              booking:
                columns:
                  berth_id: {bounds: [1, "20", 400]}
                groups:
                  - columns: [berth_id, pier_id]
                    distinct: 60
                indexes:
                  booking_by_berth: {clustering: 0.9}
            """);
    assertThat(problems(file)).isEmpty();
    TableStatistics booking = file.statistics().table(Identifier.of("booking"));
    assertThat(booking.column(Identifier.of("berth_id")).bounds())
        .containsExactly("1", "20", "400");
    assertThat(booking.groups())
        .isEqualTo(Map.of(Set.of(Identifier.of("berth_id"), Identifier.of("pier_id")), 60.0));
    assertThat(booking.clustering()).isEqualTo(Map.of(Identifier.of("booking_by_berth"), 0.9));
  }

  @Test
  void a_schema_in_front_of_a_table_counts_where_it_tells_tables_apart() throws Exception {
    StatisticsFile file =
        read(
            """
            formatVersion: 1
            tables:
              booking: {rows: 10}
              archive.booking: {rows: 20}
              billing.invoice: {rows: 30}
            """);
    Schema schema =
        new Schema(
            List.of(table("booking"), table("archive.booking"), table("invoice")), List.of());
    assertThat(file.unknownNames(schema)).isEmpty();
    Statistics known = file.statisticsOf(schema);
    assertThat(known.table(Identifier.of("booking")).rows()).hasValue(10);
    assertThat(known.table(Identifier.of("archive.booking")).rows()).hasValue(20);
    assertThat(known.table(Identifier.of("invoice")).rows()).hasValue(30);
  }

  private static Table table(String name) {
    return new Table(
        Identifier.of(name),
        Optional.empty(),
        List.of(),
        List.of(),
        List.of(),
        List.of(),
        SourceLocation.of("db/harbour.xml"));
  }

  @Test
  void a_wrong_group_bound_or_clustering_is_one_entry_each() throws Exception {
    StatisticsFile file =
        read(
            """
            formatVersion: 1
            tables:
              booking:
                columns:
                  berth_id: {bounds: [1]}
                  pier_id: {bounds: 5}
                groups:
                  - columns: [berth_id]
                    distinct: 60
                  - {columns: [berth_id, pier_id]}
                indexes:
                  booking_by_berth: {clustering: 2}
            """);
    assertThat(problems(file))
        .containsExactly(
            "5:26 bounds need two values at least",
            "6:25 bounds must be a list",
            "8:9 a group of booking needs two columns at least, and distinct",
            "10:9 a group of booking needs two columns at least, and distinct",
            "12:38 clustering must be between -1 and 1, not 2");
    assertThat(file.statistics().table(Identifier.of("booking")).groups()).isEmpty();
  }

  @Test
  void every_statement_is_read() throws Exception {
    StatisticsFile file =
        read(
            """
            formatVersion: 1
            tables:
              booking:
                rows: 2_500_000
                rowWidth: 220
                columns:
                  berth_id:
                    distinct: 400
                    nullFraction: 0.25
                    averageWidth: 8
                    minimum: "1"
                    maximum: 400
                    correlation: -0.1
                    commonValues: {"17": 0.05, yes: 0.5}
                  note: {distinct: 1e6}
              "Tide":
            """);

    assertThat(file.problems()).isEmpty();
    ColumnStatistics berth =
        new ColumnStatistics(
            OptionalDouble.of(400),
            OptionalDouble.of(0.25),
            OptionalDouble.of(8),
            Optional.of("1"),
            Optional.of("400"),
            Map.of("17", 0.05, "yes", 0.5),
            OptionalDouble.of(-0.1));
    assertThat(file.statistics())
        .isEqualTo(
            new Statistics(
                Map.of(
                    Identifier.of("BOOKING"),
                    new TableStatistics(
                        OptionalDouble.of(2_500_000),
                        OptionalDouble.of(220),
                        Map.of(
                            Identifier.of("berth_id"),
                            berth,
                            Identifier.of("note"),
                            ColumnStatistics.distinct(1_000_000))),
                    Identifier.of("tide"),
                    TableStatistics.UNKNOWN)));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "rows: -1 | 4:11 rows must be at least 0, not -1",
        "rows: many | 4:11 rows must be a number",
        "rows: \"5\" | 4:11 rows must be a number",
        "rows: .nan | 4:11 rows must be a number",
        "rows: [1] | 4:11 rows must be a number",
        "rows: {a: 1} | 4:11 rows must be a number",
        "rowWidth: 0 | 4:15 rowWidth must be at least 1, not 0",
        "rwos: 5 | 4:5 unknown key 'rwos' in table booking, known are columns, groups, indexes,"
            + " rowWidth, rows",
        "columns: 3 | 4:14 columns of booking must be a mapping of keys to values",
        "columns: {a: {nullFraction: 1.5}} | 4:33 nullFraction must be between 0 and 1, not 1.5",
        "columns: {a: {correlation: -2}} | 4:32 correlation must be between -1 and 1, not -2",
        "columns: {a: {minimum: [1]}} | 4:28 minimum must be text or a number",
        "columns: {a: 5} | 4:18 column booking.a must be a mapping of keys to values",
        "columns: {[a]: {}} | 4:15 a key in columns of booking is no name",
        "columns: {a: {}, A: {}} | 4:22 A is stated twice in columns of booking",
        "columns: {a: {distinct: 1, distinct: 2}} | 4:32 distinct is stated twice in column"
            + " booking.a",
        "columns: {a: {commonValues: {x: 0.6, y: 0.6}}} | 4:33 the shares of commonValues add up to"
            + " more than 1",
        "columns: {a: {commonValues: {x: 2}}} | 4:37 share of common value x must be between 0 and"
            + " 1, not 2",
        "columns: {a: {commonValues: {[x]: 0.1}}} | 4:34 a common value is neither text nor number",
        "columns: {a: {commonValues: {x: 0.1, x: 0.2}}} | 4:42 common value x is stated twice"
      })
  void statement_that_is_not_understood_is_one_entry_and_the_rest_is_used(
      String line, String problem) throws Exception {
    StatisticsFile file =
        read(
            "formatVersion: 1\ntables:\n  booking:\n    " + line + "\n  vessel:\n    rows: 9000\n");

    assertThat(problems(file)).containsExactly(problem);
    assertThat(file.problems().get(0).location().file()).isEqualTo("colonnade/statistics.yaml");
    assertThat(file.statistics().table(Identifier.of("vessel")).rows()).hasValue(9000);
  }

  @Test
  void missing_version_is_an_entry_and_another_version_a_malfunction() throws Exception {
    assertThat(problems(read("tables: {tide: {rows: 1}}")))
        .containsExactly("1:1 formatVersion is missing, 1 is assumed");
    assertThat(read("").statistics()).isEqualTo(Statistics.NONE);
    assertThatThrownBy(() -> read("tables: {}\nformatVersion: 2"))
        .isInstanceOf(StatisticsFileException.class)
        .hasMessage(
            "statistics file colonnade/statistics.yaml:2:"
                + " formatVersion is not 1, the only one that is known");
  }

  @Test
  void file_that_is_no_yaml_is_a_malfunction_with_its_place() {
    assertThatThrownBy(() -> read("formatVersion: 1\ntables:\n  booking: {rows: 5\n  vessel: 3\n"))
        .isInstanceOf(StatisticsFileException.class)
        .hasMessageStartingWith("statistics file colonnade/statistics.yaml:4: no valid YAML: ")
        .extracting(it -> ((StatisticsFileException) it).location())
        .isEqualTo(new SourceLocation("colonnade/statistics.yaml", 4, 9, Optional.empty()));
    assertThatThrownBy(() -> read("a: \u0007"))
        .isInstanceOf(StatisticsFileException.class)
        .hasMessageStartingWith("statistics file colonnade/statistics.yaml:1: no valid YAML: ");
  }

  @Test
  void file_that_cannot_be_read_is_a_malfunction() throws IOException {
    StatisticsFileReader reader = new StatisticsFileReader(base);
    Path latin = Files.write(base.resolve("latin.yaml"), "a: é".getBytes(ISO_8859_1));

    assertThatThrownBy(() -> reader.read(base.resolve("missing.yaml")))
        .isInstanceOf(StatisticsFileException.class)
        .hasMessage("statistics file missing.yaml:1: the file cannot be read");
    assertThatThrownBy(() -> reader.read(latin))
        .isInstanceOf(StatisticsFileException.class)
        .hasMessage("statistics file latin.yaml:1: the file is not valid UTF-8");
  }

  @Test
  void tag_that_asks_for_a_class_is_refused() {
    assertThatThrownBy(
            () -> read("formatVersion: 1\ntables: !!java.net.URL [\"http://localhost\"]\n"))
        .isInstanceOf(StatisticsFileException.class)
        .hasMessageStartingWith("statistics file colonnade/statistics.yaml:2: no valid YAML: ");
  }

  @Test
  void names_that_the_schema_does_not_have_are_listed() throws Exception {
    Table booking =
        new Table(
            Identifier.of("booking"),
            Optional.empty(),
            List.of(Column.of("id", ColumnType.of("bigint", TypeFamily.INTEGER), false)),
            List.of(),
            List.of(),
            List.of(),
            SourceLocation.of("changelog.xml"));
    StatisticsFile file =
        read(
            """
            formatVersion: 1
            tables:
              BOOKING: {columns: {ID: {distinct: 5}, berth: {distinct: 5}}}
              tide: {columns: {id: {distinct: 5}}}
            """);

    assertThat(file.unknownNames(new Schema(List.of(booking), List.of())))
        .extracting(it -> it.location().line() + " " + it.reason())
        .containsExactly(
            "3 statistics for column BOOKING.berth, which the changelog does not have",
            "4 statistics for table tide, which the changelog does not have");
  }
}
