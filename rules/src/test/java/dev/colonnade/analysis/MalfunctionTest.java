package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import dev.colonnade.analysis.AnalysisInput.Changelog;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What stops the analysis: one message, which names the place. */
class MalfunctionTest {
  @TempDir private Path directory;

  private static String messageOf(AnalysisInput.Builder input) {
    AnalysisException failure =
        catchThrowableOfType(AnalysisException.class, () -> Analysis.run(input.build()));
    assertThat(failure).as("a malfunction").isNotNull();
    assertThat(failure.getMessage()).doesNotContain("\n");
    return failure.getMessage();
  }

  private SmallService service() {
    return SmallService.in(directory);
  }

  @Test
  void an_unknown_database_lists_the_known_ones() {
    AnalysisInput.Builder input =
        AnalysisInput.builder(directory, "postgres")
            .changelogs(List.of(Changelog.of("db/harbour.xml")));
    assertThat(messageOf(input))
        .isEqualTo(
            "database: 'postgres' is not one of postgresql, mysql, mariadb, oracle, mssql, db2,"
                + " sqlite, h2, hsqldb, derby");
  }

  @Test
  void a_version_that_nobody_knows_lists_the_known_ones() {
    assertThat(messageOf(service().input().databaseVersion(Optional.of("91"))))
        .isEqualTo(
            "databaseVersion: '91' is not a version of PostgreSQL that is known here (9.6 and"
                + " later, 10, 11, 12, 13, 14, 15, 16, 17, 18); leave it out for the newest");
  }

  @Test
  void a_missing_changelog_is_named_with_the_places_where_it_was_looked_up() {
    assertThat(messageOf(service().input().changelogs(List.of(Changelog.of("db/quay.xml")))))
        .isEqualTo(
            "changelog db/quay.xml:1: cannot find this changelog in src/main/resources, the base"
                + " directory");
  }

  @Test
  void broken_xml_is_named_with_its_line() {
    SmallService service =
        service().file(SmallService.CHANGELOG, SmallService.changelog("<changeSet\n<"));
    assertThat(messageOf(service.input())).contains(SmallService.CHANGELOG + ":");
  }

  @Test
  void a_changelog_that_includes_itself_is_named() {
    SmallService service =
        service()
            .file(
                SmallService.CHANGELOG,
                SmallService.changelog("<include file=\"db/harbour.xml\"/>\n"));
    assertThat(messageOf(service.input())).contains("harbour.xml");
  }

  @Test
  void an_unreadable_statistics_file_is_named() {
    SmallService service = service().file(SmallService.STATISTICS, "tables: [unclosed\n");
    assertThat(messageOf(service.input())).contains(SmallService.STATISTICS);
  }

  @Test
  void an_unknown_rule_and_an_unknown_severity_are_named() {
    assertThat(messageOf(service().input().severities(Map.of("redundant-indexes", "off"))))
        .startsWith("severities: there is no rule 'redundant-indexes'; there are: ");
    assertThat(messageOf(service().input().severities(Map.of("redundant-index", "fatal"))))
        .isEqualTo(
            "severities: 'fatal' for rule 'redundant-index' is not one of error, warning, note,"
                + " off");
  }
}
