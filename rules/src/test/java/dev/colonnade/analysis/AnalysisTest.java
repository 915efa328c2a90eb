package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.colonnade.access.AccessPath;
import dev.colonnade.finding.Finding;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.report.Coverage;
import dev.colonnade.report.SarifSchema;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AnalysisTest {
  @TempDir private Path directory;

  private AnalysisResult run() throws AnalysisException {
    return Analysis.run(SmallService.in(directory).input().build());
  }

  @Test
  void changelog_and_queries_become_access_paths() throws AnalysisException {
    assertThat(run().report().queries())
        .extracting(
            access ->
                access.query().id()
                    + " "
                    + access.tables().get(0).chosen().path().word()
                    + " "
                    + access
                        .tables()
                        .get(0)
                        .chosen()
                        .index()
                        .map(it -> it.name().text())
                        .orElse("-"))
        .containsExactly(
            "queries/berths.sql:1 range-scan berth_pier_length_ix",
            "queries/berths.sql:3 full-table-scan -",
            "queries/berths.sql:5 range-scan berth_pier_length_ix");
  }

  @Test
  void findings_point_to_changelog_and_query() throws AnalysisException {
    assertThat(run().report().findings())
        .extracting(Finding::headline)
        .anyMatch(it -> it.startsWith(SmallService.CHANGELOG + ":17: error: [redundant-index]"))
        .anyMatch(it -> it.startsWith("queries/berths.sql:3: warning: [missing-index]"));
  }

  @Test
  void what_was_not_understood_is_counted_and_listed() throws AnalysisException {
    Coverage coverage = run().report().coverage();
    assertThat(coverage.changes()).isEqualTo(3);
    assertThat(coverage.changesApplied()).isEqualTo(3);
    assertThat(coverage.queries()).isEqualTo(4);
    assertThat(coverage.queriesAnalysed()).isEqualTo(3);
    assertThat(coverage.queriesNotAnalysed())
        .extracting(UnanalysedQuery::id)
        .containsExactly("queries/berths.sql:4");
    assertThat(coverage.otherNotUnderstood())
        .extracting(NotUnderstood::toString)
        .singleElement()
        .asString()
        .contains("statistics.yaml", "wharf");
  }

  /** https://www.postgresql.org/docs/18/indexes-multicolumn.html: skip scan is new in 18. */
  @ParameterizedTest
  @CsvSource({"17, false, PostgreSQL 17", "18, true, PostgreSQL 18", ", true, PostgreSQL"})
  void the_version_decides_on_paths(String version, boolean jumps, String named) throws Exception {
    SmallService service =
        SmallService.in(directory)
            .file(SmallService.QUERIES, "select length from berth where length = 21;")
            .file(
                SmallService.STATISTICS,
                """
                formatVersion: 1
                tables:
                  berth:
                    rows: 1000000
                    columns:
                      pier_id: {distinct: 4}
                      length: {distinct: 100000}
                """);
    AnalysisInput input = service.input().databaseVersion(Optional.ofNullable(version)).build();
    AnalysisResult result = Analysis.run(input);
    assertThat(result.report().queries().get(0).tables().get(0).chosen().path())
        .isEqualTo(jumps ? AccessPath.SKIP_SCAN : AccessPath.FULL_INDEX_SCAN);
    Analysis.writeReports(result, input);
    Path written = input.outputDirectory();
    assertThat(written.resolve("findings.md")).content().contains("\n" + named + ": 1 table ");
    assertThat(written.resolve("access-paths.json"))
        .content()
        .matches(json -> json.contains("\"databaseVersion\"") == (version != null));
  }

  @Test
  void one_text_in_two_places_is_two_queries_with_the_same_paths() throws AnalysisException {
    AnalysisResult result = run();
    assertThat(result.report().queries().get(0).tables())
        .isSameAs(result.report().queries().get(2).tables());
    assertThat(result.report().queries().get(2).query().location().line()).isEqualTo(5);
  }

  @Test
  void an_unknown_change_type_is_an_entry_and_the_rest_goes_on() throws AnalysisException {
    SmallService service = SmallService.in(directory);
    service.file(
        SmallService.CHANGELOG,
        SmallService.changelog(
            """
              <changeSet id="1" author="quay"><moorLoad weight="3"/></changeSet>
              <changeSet id="2" author="quay">
                <createTable tableName="berth">
                  <column name="id" type="bigint"/>
                  <column name="pier_id" type="bigint"/>
                  <column name="length" type="int"/>
                </createTable>
              </changeSet>
            """));
    Coverage coverage = Analysis.run(service.input().build()).report().coverage();
    assertThat(coverage.changesNotUnderstood())
        .singleElement()
        .satisfies(
            entry -> {
              assertThat(entry.location().file()).isEqualTo(SmallService.CHANGELOG);
              assertThat(entry.location().line()).isEqualTo(6);
              assertThat(entry.reason()).contains("moorLoad");
            });
    assertThat(coverage.queriesAnalysed()).isEqualTo(2);
  }

  @Test
  void an_unreadable_class_file_is_an_entry() throws AnalysisException {
    SmallService service = SmallService.in(directory);
    service.file("target/classes/harbour/Berths.class", "no class");
    assertThat(Analysis.run(service.input().build()).report().coverage().otherNotUnderstood())
        .extracting(entry -> entry.location().file())
        .contains("target/classes/harbour/Berths.class");
  }

  @Test
  void accepted_findings_that_nothing_reads_yet_are_said_so() throws AnalysisException {
    AnalysisInput input =
        SmallService.in(directory)
            .file("colonnade/accepted.yaml", "accepted: []")
            .input()
            .acceptedFile(Optional.of(Path.of("colonnade/accepted.yaml")))
            .build();
    assertThat(Analysis.run(input).report().coverage().otherNotUnderstood())
        .extracting(entry -> entry.location().file())
        .contains("colonnade/accepted.yaml");
  }

  @Test
  void severities_change_and_switch_off_rules() throws AnalysisException {
    AnalysisInput input =
        SmallService.in(directory)
            .input()
            .severities(Map.of("redundant-index", "note", "missing-index", "off"))
            .build();
    AnalysisResult result = Analysis.run(input);
    assertThat(result.report().findings())
        .extracting(Finding::headline)
        .anyMatch(it -> it.contains(": note: [redundant-index]"))
        .noneMatch(it -> it.contains("[missing-index]"));
    assertThat(result.report().rules()).noneMatch(rule -> rule.id().equals("missing-index"));
  }

  @Test
  void every_use_of_a_table_lists_every_index_of_it() throws AnalysisException {
    assertThat(run().report().queries())
        .allSatisfy(
            access ->
                assertThat(access.tables().get(0).candidates())
                    .extracting(it -> it.index().orElseThrow().name().text())
                    .containsExactly("berth_pier_ix", "berth_pier_length_ix", "berth_pk"));
  }

  @Test
  void without_queries_statistics_and_classes_the_schema_is_still_judged()
      throws AnalysisException {
    AnalysisInput input =
        SmallService.in(directory)
            .input()
            .queryFiles(List.of())
            .statisticsFile(Optional.empty())
            .build();
    AnalysisResult result = Analysis.run(input);
    assertThat(result.report().queries()).isEmpty();
    assertThat(result.report().findings()).extracting(Finding::ruleId).contains("redundant-index");
  }

  @Test
  void reports_are_written_where_the_input_says() throws AnalysisException {
    AnalysisInput input = SmallService.in(directory).input().build();
    AnalysisResult result = Analysis.run(input);
    assertThat(directory.resolve("target/colonnade")).doesNotExist();
    Analysis.writeReports(result, input);
    assertThat(directory.resolve("target/colonnade/findings.sarif")).isRegularFile();
    assertThat(directory.resolve("target/colonnade/findings.md")).isRegularFile();
    assertThat(directory.resolve("target/colonnade/access-paths.json")).isRegularFile();
  }

  @Test
  void the_written_log_is_valid_sarif() throws Exception {
    AnalysisInput input = SmallService.in(directory).input().build();
    Analysis.writeReports(Analysis.run(input), input);
    String log = Files.readString(directory.resolve("target/colonnade/findings.sarif"));
    assertThat(SarifSchema.errors(log)).isEmpty();
    assertThat(log).contains("redundant-index", "queries/berths.sql", "query-not-analysed");
  }

  @Test
  void a_place_that_cannot_be_written_is_a_malfunction() throws Exception {
    AnalysisInput input =
        SmallService.in(directory).input().outputDirectory(Path.of("occupied")).build();
    Files.writeString(directory.resolve("occupied"), "mine");
    AnalysisResult result = Analysis.run(input);
    assertThatThrownBy(() -> Analysis.writeReports(result, input))
        .isInstanceOf(AnalysisException.class)
        .hasMessageStartingWith("outputDirectory: cannot write the reports to ")
        .hasMessageContaining("occupied");
  }

  @Test
  void the_summary_ends_with_the_number_of_findings() throws AnalysisException {
    List<String> summary = Analysis.summary(run());
    assertThat(summary.get(summary.size() - 1)).startsWith("findings  1 error, ");
  }

  @Test
  void a_query_is_explained_by_its_id() throws AnalysisException {
    assertThat(Analysis.explain(run(), "queries/berths.sql:1"))
        .contains("query    queries/berths.sql:1")
        .anyMatch(line -> line.contains("berth_pier_ix(pier_id)"))
        .anyMatch(line -> line.contains(AccessPath.RANGE_SCAN.word()));
  }

  @Test
  void an_unknown_id_gives_the_closest() throws AnalysisException {
    AnalysisResult result = run();
    assertThatThrownBy(() -> Analysis.explain(result, "berths.sql:3"))
        .isInstanceOf(AnalysisException.class)
        .hasMessage(
            "query: there is no query 'berths.sql:3'; the closest: queries/berths.sql:3,"
                + " queries/berths.sql:1, queries/berths.sql:4");
    assertThatThrownBy(() -> Analysis.explain(result, "queries/berths.sql:4"))
        .isInstanceOf(AnalysisException.class)
        .hasMessageStartingWith("query: 'queries/berths.sql:4' at queries/berths.sql:4 was not");
  }
}
