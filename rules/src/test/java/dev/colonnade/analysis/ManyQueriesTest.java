package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.analysis.AnalysisInput.Changelog;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Time and memory of the whole run, reports included, grow with the number of queries. The common
 * test has 1,000 of them on 100 tables; {@code -Dcolonnade.many.queries=10000} has 10,000 on 1,000
 * tables and prints the figures. The bounds leave room for a busy machine: a run that grew with the
 * square would take sixteen times as long for four times the size.
 */
class ManyQueriesTest {
  private static final int QUERIES = Integer.getInteger("colonnade.many.queries", 1000);
  private static final int QUERIES_A_TABLE = 10;
  private static final int FACTOR = 4;

  @TempDir Path directory;

  /**
   * What a run took.
   *
   * @param kilobytes of memory that its result keeps
   */
  private record Measure(double seconds, long kilobytes) {}

  @Test
  void time_and_memory_grow_with_the_queries() throws Exception {
    measure(100);
    Measure small = measure(QUERIES / FACTOR);
    Measure large = measure(QUERIES);
    if (QUERIES > 1000) {
      System.out.printf(
          Locale.ROOT,
          "%d queries: %.1f s, %d kB kept; a quarter of it: %.1f s, %d kB%n",
          QUERIES,
          large.seconds(),
          large.kilobytes(),
          small.seconds(),
          small.kilobytes());
    }
    assertThat(large.seconds()).isLessThan(2 * FACTOR * small.seconds() + 2);
    assertThat(large.kilobytes()).isLessThan(2 * FACTOR * small.kilobytes() + 8192);
  }

  private Measure measure(int queries) throws IOException, AnalysisException {
    Path service = Files.createDirectories(directory.resolve("service" + queries));
    int tables = queries / QUERIES_A_TABLE;
    Files.writeString(service.resolve("harbour.sql"), changelog(tables));
    Files.writeString(service.resolve("queries.sql"), queries(queries, tables));
    AnalysisInput input =
        AnalysisInput.builder(service, "postgresql")
            .changelogs(List.of(Changelog.of("harbour.sql")))
            .queryFiles(List.of(service.resolve("queries.sql")))
            .build();
    long before = usedKilobytes();
    long start = System.nanoTime();
    AnalysisResult result = Analysis.run(input);
    Analysis.writeReports(result, input);
    double seconds = (System.nanoTime() - start) / 1e9;
    long kept = Math.max(1, usedKilobytes() - before);
    assertThat(result.report().coverage().queriesAnalysed()).isEqualTo(queries);
    assertThat(result.report().coverage().isComplete()).isTrue();
    return new Measure(seconds, kept);
  }

  private static long usedKilobytes() {
    System.gc();
    System.gc();
    Runtime runtime = Runtime.getRuntime();
    return (runtime.totalMemory() - runtime.freeMemory()) / 1024;
  }

  private static String changelog(int tables) {
    StringBuilder text = new StringBuilder("--liquibase formatted sql\n");
    for (int i = 0; i < tables; i++) {
      text.append(
          """
          --changeset harbour:%1$d
          create table pier%1$d (id bigint primary key, name varchar(40), depth int, place bigint,
            opened timestamp);
          create index pier%1$d_name on pier%1$d (name, depth);
          create index pier%1$d_place on pier%1$d (place);
          create index pier%1$d_opened on pier%1$d (opened, depth, name);
          """
              .formatted(i));
    }
    return text.toString();
  }

  /** Look-ups, ranges, orders, joins of two and subqueries, each text another. */
  private static String queries(int queries, int tables) {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < queries; i++) {
      String kind =
          switch (i % 5) {
            case 0 -> "select depth from pier%1$d where name = ? and depth > %3$d;";
            case 1 -> "select name from pier%1$d where place = %3$d order by opened;";
            case 2 ->
                "select a.name, b.depth from pier%1$d a join pier%2$d b on b.place = a.id"
                    + " where a.depth = %3$d;";
            case 3 ->
                "select count(*) from pier%1$d where opened >= ? and exists"
                    + " (select 1 from pier%2$d p where p.name = 'n%3$d');";
            default -> "update pier%1$d set depth = %3$d where place in (?, ?);";
          };
      text.append(kind.formatted(i % tables, (i + 7) % tables, i)).append('\n');
    }
    return text.toString();
  }
}
