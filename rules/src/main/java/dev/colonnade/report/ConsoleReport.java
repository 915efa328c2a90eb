package dev.colonnade.report;

import dev.colonnade.finding.Finding;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Collectors;

/** The summary for the console, without colours. */
public final class ConsoleReport {
  private static final String INDENT = "  ";

  private ConsoleReport() {}

  /**
   * The summary, line by line: what was not understood, then the findings, the heaviest last and so
   * next to the numbers that close it.
   */
  public static List<String> lines(Report report) {
    List<String> lines = new ArrayList<>();
    List<Gap> gaps = Gap.of(report.coverage());
    if (!gaps.isEmpty()) {
      lines.add("Not understood");
      gaps.forEach(gap -> lines.add(INDENT + gap.location() + ": " + gap.text()));
      lines.add("");
    }
    report.findings().stream()
        .sorted(Comparator.comparing(Finding::severity).reversed())
        .forEach(
            finding -> {
              lines.addAll(finding.render().lines().toList());
              lines.add("");
            });
    lines.addAll(numbers(report));
    return lines;
  }

  private static List<String> numbers(Report report) {
    Coverage coverage = report.coverage();
    List<String> lines = new ArrayList<>();
    lines.add(
        "schema    "
            + report.dialect().nameWithVersion()
            + ", "
            + Numbers.count(report.schema().tables().size(), "table", "tables")
            + ", "
            + Numbers.count(Tally.indexes(report), "index", "indexes")
            + "; "
            + ofTotal(coverage.changesApplied(), coverage.changes(), "change", "changes")
            + " applied");
    lines.add(
        "queries   "
            + ofTotal(coverage.queriesAnalysed(), coverage.queries(), "query", "queries")
            + " analysed, "
            + (coverage.queriesWithoutText() == 0
                ? ""
                : coverage.queriesWithoutText() + " more without a text before run time, ")
            + Numbers.count(Tally.tableReads(report), "read", "reads")
            + " of a table");
    if (!report.queries().isEmpty()) {
      lines.add(
          "paths     "
              + Tally.paths(report).entrySet().stream()
                  .map(entry -> entry.getValue() + " " + entry.getKey().word())
                  .collect(Collectors.joining(", ")));
    }
    lines.add("findings  " + Tally.findings(report));
    return lines;
  }

  private static String ofTotal(int part, int total, String singular, String plural) {
    return part + " of " + Numbers.count(total, singular, plural);
  }
}
