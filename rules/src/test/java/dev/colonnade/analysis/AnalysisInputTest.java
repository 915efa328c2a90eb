package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class AnalysisInputTest {
  @TempDir private Path base;

  @Test
  void relative_paths_are_resolved_against_the_base_directory() {
    AnalysisInput input =
        AnalysisInput.builder(base, "h2")
            .changelogSearchRoots(List.of(Path.of("src/main/resources"), base.resolve("x.jar")))
            .queryFiles(List.of(Path.of("queries/../queries/a.sql")))
            .classesDirectory(Path.of("target/classes"))
            .statisticsFile(Optional.of(Path.of("colonnade/statistics.yaml")))
            .build();
    assertThat(input.changelogSearchRoots())
        .containsExactly(base.resolve("src/main/resources"), base.resolve("x.jar"));
    assertThat(input.queryFiles()).containsExactly(base.resolve("queries/a.sql"));
    assertThat(input.classesDirectory()).contains(base.resolve("target/classes"));
    assertThat(input.statisticsFile()).contains(base.resolve("colonnade/statistics.yaml"));
  }

  @Test
  void what_is_not_set_is_empty_or_usual() {
    AnalysisInput input = AnalysisInput.builder(base, "h2").build();
    assertThat(input.changelogSearchRoots()).containsExactly(base);
    assertThat(input.outputDirectory()).isEqualTo(base.resolve("target/colonnade"));
    assertThat(input.queryFiles()).isEmpty();
    assertThat(input.classesDirectory()).isEmpty();
    assertThat(input.severities()).isEqualTo(Map.of());
  }
}
