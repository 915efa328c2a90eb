package dev.colonnade.report;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.TableAccess;
import dev.colonnade.finding.Severity;
import dev.colonnade.statistics.Confidence;
import java.util.EnumMap;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Counts that several reports print. */
final class Tally {
  private Tally() {}

  /** The findings in words: {@code 2 errors, 3 warnings, 1 note}. */
  static String findings(Report report) {
    return String.join(
        ", ",
        Numbers.count(report.count(Severity.ERROR), "error", "errors"),
        Numbers.count(report.count(Severity.WARNING), "warning", "warnings"),
        Numbers.count(report.count(Severity.NOTE), "note", "notes"));
  }

  private static Stream<TableAccess> reads(Report report) {
    return report.queries().stream().flatMap(query -> query.tables().stream());
  }

  /** Number of reads of a table, over all queries. */
  static long tableReads(Report report) {
    return reads(report).count();
  }

  /** Number of reads of a table by chosen access path; paths that none takes are left out. */
  static Map<AccessPath, Long> paths(Report report) {
    return by(report, read -> read.chosen().path(), new EnumMap<>(AccessPath.class));
  }

  /** Number of reads of a table by confidence of the estimate; empty classes are left out. */
  static Map<Confidence, Long> confidences(Report report) {
    return by(
        report, read -> read.chosen().estimate().confidence(), new EnumMap<>(Confidence.class));
  }

  private static <E extends Enum<E>> Map<E, Long> by(
      Report report, Function<TableAccess, E> key, EnumMap<E, Long> empty) {
    return reads(report).collect(Collectors.groupingBy(key, () -> empty, Collectors.counting()));
  }

  /** Number of indexes of all tables. */
  static long indexes(Report report) {
    return report.schema().tables().stream().mapToLong(table -> table.indexes().size()).sum();
  }
}
