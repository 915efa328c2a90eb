package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.report.ReportFiles;
import java.nio.file.Path;
import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The order in which files are named, written and filled does not show in any report: root
 * changelogs that do not build on each other, files of queries, mappers, the tables and columns of
 * the statistics file. Each service is drawn at random. The name of a failing test is its seed.
 */
class FileOrderTest {
  private static final int SERVICES = 25;

  @TempDir private Path directory;

  static LongStream seeds() {
    return LongStream.range(0, SERVICES);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void the_order_of_files_does_not_show(long seed) throws AnalysisException {
    ShuffledService service = ShuffledService.from(new Random(seed));
    Path one = reports(service, directory.resolve("one"), seed);
    Path other = reports(service, directory.resolve("other"), -1 - seed);
    for (String name :
        new String[] {ReportFiles.ACCESS_PATHS, ReportFiles.MARKDOWN, ReportFiles.SARIF}) {
      assertThat(other.resolve(name)).as(name).hasSameBinaryContentAs(one.resolve(name));
    }
  }

  private static Path reports(ShuffledService service, Path base, long order)
      throws AnalysisException {
    AnalysisInput input = service.in(base, new Random(order));
    AnalysisResult result = Analysis.run(input);
    assertThat(result.report().coverage().queriesAnalysed()).isPositive();
    Analysis.writeReports(result, input);
    return input.outputDirectory();
  }
}
