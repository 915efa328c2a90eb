package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.analysis.AnalysisInput.Changelog;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.TimeZone;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The same input gives the same bytes, whatever the folder, the locale and the time zone. */
class SameBytesTest {
  @TempDir private Path directory;
  private final Locale locale = Locale.getDefault();
  private final TimeZone timeZone = TimeZone.getDefault();

  /** What is not understood: its reasons must not follow the locale either. */
  private static final String ODD =
      SmallService.changelog(
          """
            <changeSet id="4" author="quay"><moorLoad weight="3"/></changeSet>
            <changeSet id="5" author="quay"><customChange class="harbour.Fill"/></changeSet>
            <changeSet id="6" author="quay"><sql>create tabel pier (id int)</sql></changeSet>
            <changeSet id="7" author="quay"><dropTable tableName="quay"/></changeSet>
            <changeSet id="8" author="quay"><sqlFile path="db/none.sql"/></changeSet>
            <changeSet id="9" author="quay">
              <createIndex tableName="BERTH" indexName="BERTH_TITLE_IX">
                <column name="TITLE"/>
              </createIndex>
            </changeSet>
          """);

  @AfterEach
  void restore() {
    Locale.setDefault(locale);
    TimeZone.setDefault(timeZone);
  }

  private Path reports(String folder) throws AnalysisException {
    Path base = directory.resolve(folder);
    AnalysisInput input =
        SmallService.in(base)
            .file("src/main/resources/db/odd.xml", ODD)
            .input()
            .changelogs(List.of(Changelog.of("db/harbour.xml"), Changelog.of("db/odd.xml")))
            .build();
    AnalysisResult result = Analysis.run(input);
    assertThat(result.report().coverage().changesNotUnderstood()).hasSizeGreaterThanOrEqualTo(4);
    Analysis.writeReports(result, input);
    return input.outputDirectory();
  }

  private static void assertSame(Path one, Path other) {
    for (String name : new String[] {"access-paths.json", "findings.md", "findings.sarif"}) {
      assertThat(other.resolve(name)).as(name).hasSameBinaryContentAs(one.resolve(name));
    }
  }

  private static void move(Path from, Path to) {
    try {
      Files.move(from, to);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Test
  void two_runs_in_one_folder() throws AnalysisException {
    Path one = reports("here");
    Path kept = directory.resolve("kept");
    move(one, kept);
    assertSame(kept, reports("here"));
  }

  /**
   * Turkish is the locale in which {@code "TITLE".toLowerCase()} is not {@code "title"}; for the
   * others the JDK or a library brings translated messages; the last writes its own digits.
   */
  @ParameterizedTest
  @ValueSource(strings = {"tr-TR", "de-DE", "ja-JP", "ar-EG-u-nu-arab"})
  void another_folder_locale_and_time_zone(String tag) throws AnalysisException {
    Locale.setDefault(Locale.ROOT);
    TimeZone.setDefault(TimeZone.getTimeZone("UTC"));
    Path one = reports("here");
    Locale.setDefault(Locale.forLanguageTag(tag));
    TimeZone.setDefault(TimeZone.getTimeZone("Asia/Kathmandu"));
    Path other = reports("über dort/and deeper");
    assertSame(one, other);
  }

  @Test
  void another_order_of_files() throws AnalysisException {
    List<Path> files = List.of(Path.of(SmallService.QUERIES), Path.of("queries/piers.sql"));
    List<Path> reversed = List.of(files.get(1), files.get(0));
    assertSame(reports("one", files), reports("other", reversed));
  }

  private Path reports(String folder, List<Path> files) throws AnalysisException {
    AnalysisInput input =
        SmallService.in(directory.resolve(folder))
            .file("queries/piers.sql", "select pier_id from berth where length = 12;\n")
            .input()
            .queryFiles(files)
            .build();
    Analysis.writeReports(Analysis.run(input), input);
    return input.outputDirectory();
  }

  @Test
  void no_file_says_where_the_project_lies() throws AnalysisException {
    Path one = reports("somewhere-particular");
    for (String name : new String[] {"access-paths.json", "findings.md", "findings.sarif"}) {
      assertThat(one.resolve(name)).content().doesNotContain("somewhere-particular");
    }
  }
}
