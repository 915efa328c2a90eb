package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Time and memory of reading grow with the size of the changelog, in every format. The common test
 * reads 1,000 change sets with 4,000 indexes; {@code -Dcolonnade.reading.changeSets=5000} reads
 * 5,000 with 20,000 and prints the figures. The bounds leave room for a busy machine: a reading
 * that grew with the square would take sixteen times as long for four times the size.
 */
class ReadingGrowthTest {
  private static final int CHANGE_SETS = Integer.getInteger("colonnade.reading.changeSets", 1000);
  private static final int INDEXES = 4;
  private static final int FACTOR = 4;

  @TempDir static Path directory;

  @BeforeAll
  static void warmUp() throws IOException {
    for (String format : List.of("xml", "yaml", "sql")) {
      measure(format, 50);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"xml", "yaml", "sql"})
  void time_and_memory_grow_with_the_size(String format) throws IOException {
    Measure small = measure(format, CHANGE_SETS / FACTOR);
    Measure large = measure(format, CHANGE_SETS);
    if (CHANGE_SETS > 1000) {
      System.out.printf(
          "%s: %d change sets, %d indexes: %.1f s, %d kB kept; a quarter of it: %.1f s, %d kB%n",
          format,
          CHANGE_SETS,
          CHANGE_SETS * INDEXES,
          large.seconds(),
          large.kilobytes(),
          small.seconds(),
          small.kilobytes());
    }
    assertThat(large.seconds()).isLessThan(2 * FACTOR * small.seconds() + 2);
    assertThat(large.kilobytes()).isLessThan(2 * FACTOR * small.kilobytes() + 4096);
    assertThat(large.seconds()).isLessThan(30);
  }

  /**
   * What a reading took.
   *
   * @param kilobytes of memory that its result keeps
   */
  private record Measure(double seconds, long kilobytes) {}

  private static Measure measure(String format, int changeSets) throws IOException {
    String file = "big-" + changeSets + "." + format;
    Files.writeString(directory.resolve(file), text(format, changeSets));
    long before = usedKilobytes();
    long start = processorTime();
    ChangelogResult result =
        ChangelogReader.read(
            new ChangelogInput(
                Dialects.postgresql(),
                directory,
                List.of(directory),
                List.of(RootChangelog.of(file)),
                Map.of()));
    double seconds = (processorTime() - start) / 1e9;
    long kept = Math.max(1, usedKilobytes() - before);
    assertThat(result.notUnderstood()).isEmpty();
    assertThat(result.schema().tables()).hasSize(changeSets);
    assertThat(result.schema().tables().stream().mapToInt(it -> it.indexes().size()).sum())
        .isEqualTo(changeSets * INDEXES);
    return new Measure(seconds, kept);
  }

  /** Time of this thread alone, so that others on the machine do not count, in nanoseconds. */
  private static long processorTime() {
    return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
  }

  /** Used memory after a collection, which is asked for twice as one may leave things behind. */
  private static long usedKilobytes() {
    System.gc();
    System.gc();
    Runtime runtime = Runtime.getRuntime();
    return (runtime.totalMemory() - runtime.freeMemory()) / 1024;
  }

  /** One table with a primary key and three more indexes in each change set. */
  private static String text(String format, int changeSets) {
    StringBuilder text = new StringBuilder();
    switch (format) {
      case "xml" -> {
        for (int i = 0; i < changeSets; i++) {
          text.append(xml(i));
        }
        return ChangelogFixture.wrap(text.toString());
      }
      case "yaml" -> {
        text.append("databaseChangeLog:\n");
        for (int i = 0; i < changeSets; i++) {
          text.append(yaml(i));
        }
      }
      default -> {
        text.append("--liquibase formatted sql\n");
        for (int i = 0; i < changeSets; i++) {
          text.append(sql(i));
        }
      }
    }
    return text.toString();
  }

  private static String xml(int i) {
    StringBuilder text = new StringBuilder();
    text.append("<changeSet id='").append(i).append("' author='harbour'>\n");
    text.append("<createTable tableName='berth").append(i).append("'>\n");
    text.append("<column name='id' type='bigint'><constraints primaryKey='true'/></column>\n");
    text.append("<column name='a' type='int'/><column name='b' type='int'/>\n</createTable>\n");
    for (String columns : List.of("a", "b", "a,b")) {
      text.append("<createIndex tableName='berth").append(i).append("' indexName='");
      text.append(name(i, columns)).append("'>");
      for (String column : columns.split(",", -1)) {
        text.append("<column name='").append(column).append("'/>");
      }
      text.append("</createIndex>\n");
    }
    return text.append("</changeSet>\n").toString();
  }

  private static String yaml(int i) {
    StringBuilder text = new StringBuilder();
    text.append("- changeSet:\n    id: ").append(i).append("\n    author: harbour\n    changes:\n");
    text.append("    - createTable:\n        tableName: berth").append(i);
    text.append("\n        columns:\n");
    text.append("        - column: {name: id, type: bigint, constraints: {primaryKey: true}}\n");
    text.append("        - column: {name: a, type: int}\n        - column: {name: b, type: int}\n");
    for (String columns : List.of("a", "b", "a,b")) {
      text.append("    - createIndex:\n        tableName: berth").append(i);
      text.append("\n        indexName: ").append(name(i, columns)).append("\n        columns:\n");
      for (String column : columns.split(",", -1)) {
        text.append("        - column: {name: ").append(column).append("}\n");
      }
    }
    return text.toString();
  }

  private static String sql(int i) {
    StringBuilder text = new StringBuilder();
    text.append("--changeset harbour:").append(i).append("\ncreate table berth").append(i);
    text.append(" (id bigint primary key, a int, b int);\n");
    for (String columns : List.of("a", "b", "a,b")) {
      text.append("create index ").append(name(i, columns)).append(" on berth").append(i);
      text.append(" (").append(columns).append(");\n");
    }
    return text.toString();
  }

  private static String name(int i, String columns) {
    return "berth" + i + "_" + columns.replace(",", "");
  }
}
