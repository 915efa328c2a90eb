package dev.colonnade.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReportFilesTest {
  @TempDir private Path directory;

  private static List<String> names(Path directory) throws IOException {
    try (Stream<Path> files = Files.list(directory)) {
      return files.map(file -> file.getFileName().toString()).sorted().toList();
    }
  }

  @Test
  void all_files_are_written_as_utf8_with_line_feeds_and_nothing_else_stays() throws IOException {
    Path target = directory.resolve("target/colonnade");
    List<Path> files = ReportFiles.write(ReportFixture.report(), target);
    assertThat(names(target)).containsExactly("access-paths.json", "findings.md", "findings.sarif");
    assertThat(files).allMatch(Files::isRegularFile).hasSize(3);
    for (Path file : files) {
      String text = Files.readString(file, StandardCharsets.UTF_8);
      assertThat(text).contains("Süderhafen").endsWith("\n").doesNotContain("\r");
    }
  }

  @Test
  void the_order_in_which_parts_arrive_does_not_show() throws IOException {
    Path one = directory.resolve("one");
    Path other = directory.resolve("other");
    ReportFiles.write(ReportFixture.report(), one);
    ReportFiles.write(ReportFixture.reversed(), other);
    for (String name : names(one)) {
      assertThat(other.resolve(name)).hasSameBinaryContentAs(one.resolve(name));
    }
  }

  @Test
  void a_file_that_cannot_be_put_in_place_leaves_all_old_ones() throws IOException {
    Files.writeString(directory.resolve("a.txt"), "old a");
    Files.createDirectories(directory.resolve("c.txt/occupied"));
    assertThatThrownBy(
            () ->
                ReportFiles.writeAll(
                    Map.of("a.txt", "new a", "b.txt", "new b", "c.txt", "new c"), directory))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("c.txt");
    assertThat(names(directory)).containsExactly("a.txt", "c.txt");
    assertThat(directory.resolve("a.txt")).hasContent("old a");
  }

  @Test
  void a_file_in_the_place_of_the_directory_stays() throws IOException {
    Path occupied = Files.writeString(directory.resolve("colonnade"), "mine");
    assertThatThrownBy(() -> ReportFiles.write(ReportFixture.report(), occupied))
        .isInstanceOf(IOException.class);
    assertThat(occupied).hasContent("mine");
  }

  @Test
  void old_files_are_replaced() throws IOException {
    ReportFiles.writeAll(Map.of("a.txt", "a much longer old text"), directory);
    ReportFiles.writeAll(Map.of("a.txt", "new"), directory);
    assertThat(directory.resolve("a.txt")).hasContent("new");
    assertThat(names(directory)).containsExactly("a.txt");
  }
}
