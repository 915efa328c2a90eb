package dev.colonnade.planner;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Collection;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** Writes the counts of published workloads as a section of the page on agreement. */
final class BenchmarkPage {
  private static final String START = "## Published benchmarks";
  private static final String NEXT = "## What databases count";

  private static final String HEAD =
      """
      ## Published benchmarks

      The queries of TPC-H and TPC-DS on their tables (`io.trino.tpch:tpch:1.2`, `io.trino.tpcds:tpcds:1.4`, texts of
      `org.apache.spark:spark-sql_2.13:3.5.8:tests`) and of the Star Schema Benchmark (SSB; texts from there) with primary keys and
      indexes of our own, other wordings of TPC-DS from there (version 2.7, and modified), and the distinct queries of foodmart
      (`net.hydromatic:foodmart-queries:0.4.1`) on its tables and indexes (`net.hydromatic:foodmart-data-hsqldb:0.5`) with fifteen
      composite indexes of our own; 400 rows a table. Quotes, intervals, limits and joined texts are put as each database has them;
      what it refuses all the same is counted. No index is forced: each planner reads as it would, Derby without hash joins. Each
      scan through an index is compared in the planner's own order of reading: the columns that it seeks on, whether the index
      alone answers and, for the table that is read first in a query of one block, whether a sort is left out. What a database does
      not tell (H2 and HSQLDB: whether the index alone answers) is not compared, nor is a table that a query names more than once
      under one alias (on Derby, whose plans know no alias, under any), since the plan does not tell which one is meant; nor what H2
      never reads, since the condition is false of itself. Run it again with

      ```
      mvn -B -ntp -pl rules test -Dtest=BenchmarkAgreementTest -Dcolonnade.benchmark.every=EVERY
      ```

      Asked of foodmart: WHAT. The plain tests ask one in twenty of foodmart's queries that differ in more than their constants, and Derby a quarter of TPC-DS.

      | workload | database | planned | not read | scans by an index | compared | the same | explained below | not explained |
      | --- | --- | --- | --- | --- | --- | --- | --- | --- |
      """;

  private static final String FIRST_LOOK =
      """

      What was left unexplained when a workload was looked at for the first time, of how many compared scans, and what became of it. The
      first look says what to expect of one that nobody has seen.

      | workload | PostgreSQL | SQLite | MariaDB | H2 | HSQLDB | Derby | afterwards |
      | --- | --- | --- | --- | --- | --- | --- | --- |
      | SSB | 0 of 49 | 0 of 38 | 0 of 49 | 0 of 49 | 0 of 49 | 0 of 13 | |
      | TPC-DS 2.7 | 2 of 174 | 2 of 47 | 0 of 56 | 0 of 40 | 0 of 25 | not asked | the reading of plans mended; named (a UNION ALL that is flattened) |
      | TPC-DS modified | 0 of 81 | 0 of 76 | 0 of 59 | 0 of 37 | 0 of 35 | not asked | |
      """;

  private BenchmarkPage() {}

  static void write(Path page, Collection<BenchmarkResult> results, int every) throws IOException {
    String old = Files.exists(page) ? Files.readString(page) : "";
    int start = old.indexOf(START);
    int next = old.indexOf(NEXT);
    String before = old.substring(0, start >= 0 ? start : next >= 0 ? next : old.length());
    String after = next < 0 ? "" : "\n" + old.substring(next);
    Files.writeString(page, before.stripTrailing() + "\n\n" + section(results, every) + after);
  }

  private static String section(Collection<BenchmarkResult> results, int every) {
    String table =
        results.stream().map(BenchmarkPage::line).collect(Collectors.joining("\n", "", "\n"));
    String what =
        every == 0
            ? "every distinct query"
            : "one in " + every + " of the queries that differ in more than their constants";
    String head = HEAD.replace("EVERY", String.valueOf(every)).replace("WHAT", what);
    return head + table + explained(results) + unexplained(results) + FIRST_LOOK + refused(results);
  }

  private static String line(BenchmarkResult it) {
    return String.format(
        Locale.ROOT,
        "| %s | %s | %d of %d | %d | %d | %d | %d | %d | %d |",
        it.workload(),
        it.version(),
        it.planned(),
        it.queries(),
        it.notUnderstood().size(),
        it.scans(),
        it.compared(),
        it.agreed(),
        it.explained(),
        it.unexplained().size());
  }

  private static String explained(Collection<BenchmarkResult> results) {
    return Arrays.stream(BenchmarkDifference.values())
        .map(
            fact -> {
              String where =
                  results.stream()
                      .filter(it -> it.known().containsKey(fact))
                      .map(it -> it.workload() + ": " + it.known().get(fact))
                      .collect(Collectors.joining(", "));
              return where.isEmpty() ? "" : "- " + fact.explanation() + " (" + where + ")\n";
            })
        .collect(Collectors.joining("", "\nExplained:\n\n", ""));
  }

  private static String unexplained(Collection<BenchmarkResult> results) {
    StringBuilder text = new StringBuilder();
    for (BenchmarkResult result : results) {
      result.unexplained().stream()
          .limit(12)
          .forEach(
              it ->
                  text.append(result.workload())
                      .append(" on ")
                      .append(result.version())
                      .append(": ")
                      .append(it)
                      .append("\n"));
    }
    return text.isEmpty()
        ? ""
        : "\nNot explained, at most twelve of each line of the table:\n\n```\n" + text + "```\n";
  }

  private static String refused(Collection<BenchmarkResult> results) {
    Map<String, Map<String, Integer>> reasons = new TreeMap<>();
    for (BenchmarkResult result : results) {
      result
          .refused()
          .values()
          .forEach(
              reason ->
                  reasons
                      .computeIfAbsent(
                          result.workload() + " on " + result.version(), key -> new TreeMap<>())
                      .merge(shortened(reason), 1, Integer::sum));
    }
    StringBuilder text = new StringBuilder("\nRefused, with how many times:\n\n```\n");
    reasons.forEach(
        (where, counts) -> {
          text.append(where).append("\n");
          counts.forEach(
              (reason, times) ->
                  text.append("  ").append(times).append(" x ").append(reason).append("\n"));
        });
    return text.append("```\n").toString();
  }

  /** The message without the query and the place in it. */
  private static String shortened(String reason) {
    return reason
        .replaceFirst(" in (?:explain|select|SELECT|WITH|with)\\b.*", "")
        .replaceFirst("\\s+in\\s*$", "")
        .replaceFirst("explain .*", "...")
        .replaceAll("[\" ]*explain WITH.*", " ...")
        .replaceAll(",? (?:at )?line \\d+, column \\d+\\.?", "")
        .replaceAll(" : line: \\d+", "")
        .replaceFirst("^\\(conn=\\d+\\) ", "")
        .replaceFirst("; check the manual.*near", "; near")
        .strip();
  }
}
