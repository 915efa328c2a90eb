package dev.colonnade.plugin;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class FileSelectionTest {
  @TempDir private Path base;

  @BeforeEach
  void files() throws IOException {
    for (String file : List.of("berths.sql", "reports/tides.sql", "reports/notes.txt", "b.sql")) {
      Path path = base.resolve(file);
      Files.createDirectories(path.getParent());
      Files.createFile(path);
    }
  }

  @Test
  void without_patterns_takes_the_usual_files_sorted() {
    assertThat(selected(new FileSelection()))
        .containsExactly("b.sql", "berths.sql", "reports/tides.sql");
  }

  @Test
  void one_word_is_a_list_of_patterns() {
    FileSelection selection = new FileSelection();
    selection.set("reports/*.sql, b.*");
    assertThat(selected(selection)).containsExactly("b.sql", "reports/tides.sql");
  }

  private List<String> selected(FileSelection selection) {
    return selection.files(base, "**/*.sql").stream()
        .map(file -> base.relativize(file).toString().replace('\\', '/'))
        .toList();
  }
}
