package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.QueryText;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Damaged class files, files of a later Java and sources that are missing cost one entry each. */
final class UnreadableClassFilesTest {
  @TempDir Path base;

  @Test
  void unreadable_class_file_is_one_entry_and_the_rest_is_read() throws IOException {
    CompiledService service =
        CompiledService.of(base, tide("Ebb"), tide("Flow"), tide("Slack"), tide("Spring"));
    Path ebb = service.classes().resolve("port/Ebb.class");
    byte[] bytes = Files.readAllBytes(ebb);
    Files.write(ebb, Arrays.copyOf(bytes, bytes.length / 2));
    Files.write(service.classes().resolve("port/Flow.class"), new byte[0]);
    // Tag 99 of the first constant: a format that a later Java might bring.
    Path slack = service.classes().resolve("port/Slack.class");
    byte[] later = Files.readAllBytes(slack);
    later[10] = 99;
    Files.write(slack, later);

    FoundQueries found = service.scan();

    assertThat(found.queries()).extracting(QueryText::id).containsExactly("port.Spring.all");
    assertThat(found.unreadable())
        .extracting(it -> it.location().toString())
        .containsExactly(
            "target/classes/port/Ebb.class:1",
            "target/classes/port/Flow.class:1",
            "target/classes/port/Slack.class:1");
    assertThat(found.unreadable())
        .extracting(NotUnderstood::reason)
        .containsOnly(
            "the class file cannot be read: it is damaged, cut off or of an unknown format");
  }

  @Test
  void directory_that_is_a_symbolic_link_is_read() throws IOException {
    CompiledService service = CompiledService.of(base, tide("Ebb"));
    Path elsewhere = base.resolve("elsewhere");
    Files.move(service.classes(), elsewhere);
    Files.createSymbolicLink(service.classes(), elsewhere);

    assertThat(service.scan().queries()).extracting(QueryText::id).containsExactly("port.Ebb.all");
  }

  @Test
  void class_file_cut_off_anywhere_is_never_more_than_one_entry() throws IOException {
    CompiledService service = CompiledService.of(base, tide("Ebb"), tide("Flow"));
    Path ebb = service.classes().resolve("port/Ebb.class");
    byte[] bytes = Files.readAllBytes(ebb);
    for (int length = 0; length < bytes.length; length++) {
      Files.write(ebb, Arrays.copyOf(bytes, length));

      FoundQueries found = service.scan();

      assertThat(found.queries()).extracting(QueryText::id).containsExactly("port.Flow.all");
      assertThat(found.unreadable()).as("the first %d bytes", length).hasSize(1);
    }
  }

  @Test
  void class_file_with_a_wrong_byte_costs_nothing_but_itself() throws IOException {
    long seed = 20260101;
    Random random = new Random(seed);
    CompiledService service = CompiledService.of(base, tide("Ebb"), tide("Flow"));
    Path ebb = service.classes().resolve("port/Ebb.class");
    byte[] bytes = Files.readAllBytes(ebb);
    for (int round = 0; round < 500; round++) {
      byte[] wrong = bytes.clone();
      int position = random.nextInt(wrong.length);
      wrong[position] = (byte) random.nextInt(256);
      Files.write(ebb, wrong);

      assertThat(service.scan().queries())
          .as("seed %d, round %d, byte %d", seed, round, position)
          .extracting(QueryText::id)
          .contains("port.Flow.all");
    }
  }

  /**
   * Java Virtual Machine Specification 17, section 4.1: the major version stands in bytes 6 and 7.
   */
  @Test
  void class_file_of_a_later_java_is_read_where_its_format_is_known() throws IOException {
    CompiledService service = CompiledService.of(base, tide("Ebb"));
    Path ebb = service.classes().resolve("port/Ebb.class");
    byte[] bytes = Files.readAllBytes(ebb);
    bytes[6] = 0;
    bytes[7] = 99;
    Files.write(ebb, bytes);

    assertThat(service.scan().queries()).extracting(QueryText::id).containsExactly("port.Ebb.all");
  }

  @Test
  void class_file_is_the_place_where_the_source_is_missing_or_does_not_parse() throws IOException {
    CompiledService service = CompiledService.of(base, tide("Ebb"), tide("Flow"), tide("Slack"));
    Files.delete(service.sources().resolve("port/Ebb.java"));
    Files.writeString(service.sources().resolve("port/Flow.java"), "package port; interface {");
    Files.writeString(
        service.sources().resolve("port/Slack.java"), "package port; interface Other {}");

    assertThat(service.scan().queries())
        .extracting(query -> query.location().toString())
        .containsExactly(
            "target/classes/port/Ebb.class:1",
            "target/classes/port/Flow.class:1",
            "target/classes/port/Slack.class:1");
  }

  private static String tide(String name) {
    return """
    package port;
    import org.springframework.data.r2dbc.repository.Query;
    public interface %s {
      @Query("select * from tide")
      int all();
    }
    """
        .formatted(name);
  }
}
