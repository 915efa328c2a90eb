package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.TimeZone;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The same input gives the same bytes, whatever the folder, the locale and the time zone. */
class SameBytesTest {
  @TempDir private Path directory;
  private final Locale locale = Locale.getDefault();
  private final TimeZone timeZone = TimeZone.getDefault();

  @AfterEach
  void restore() {
    Locale.setDefault(locale);
    TimeZone.setDefault(timeZone);
  }

  private Path reports(String folder) throws AnalysisException {
    Path base = directory.resolve(folder);
    AnalysisInput input = SmallService.in(base).input().build();
    Analysis.writeReports(Analysis.run(input), input);
    return input.outputDirectory();
  }

  private static void assertSame(Path one, Path other) {
    for (String name : new String[] {"access-paths.json", "findings.md", "findings.sarif"}) {
      assertThat(other.resolve(name)).as(name).hasSameBinaryContentAs(one.resolve(name));
    }
  }

  @Test
  void two_runs_in_one_folder() throws AnalysisException {
    Path one = reports("here");
    AnalysisInput again =
        SmallService.in(directory.resolve("here"))
            .input()
            .outputDirectory(Path.of("target/again"))
            .build();
    Analysis.writeReports(Analysis.run(again), again);
    assertSame(one, again.outputDirectory());
  }

  /** Turkish is the locale in which {@code "TITLE".toLowerCase()} is not {@code "title"}. */
  @Test
  void another_folder_locale_and_time_zone() throws AnalysisException {
    Locale.setDefault(Locale.ROOT);
    TimeZone.setDefault(TimeZone.getTimeZone("UTC"));
    Path one = reports("here");
    Locale.setDefault(Locale.forLanguageTag("tr-TR"));
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
