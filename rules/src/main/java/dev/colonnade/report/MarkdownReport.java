package dev.colonnade.report;

import dev.colonnade.finding.Evidence;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.location.SourceLocation;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Writes {@code findings.md}: the summary for a pull request, in GitHub-flavoured Markdown.
 *
 * <p>Code hosts cut or refuse a comment that is too long, so the page has a size that it keeps: the
 * findings that come first are told in full, the rest is counted by rule, and lists of what was not
 * understood end with the number of entries left out. Everything is in {@code findings.sarif} and
 * {@code access-paths.json}.
 */
final class MarkdownReport {
  /**
   * Characters up to which findings are told in full; with the lists below, the page stays under
   * the 65,536 characters that a comment may have on common code hosts (common practice).
   */
  private static final int ROOM_FOR_FINDINGS = 45_000;

  /** Characters that each list of what was not understood may take. */
  private static final int ROOM_FOR_A_LIST = 5_000;

  private final Report report;
  private final List<String> lines = new ArrayList<>();

  private MarkdownReport(Report report) {
    this.report = report;
  }

  static String write(Report report) {
    MarkdownReport markdown = new MarkdownReport(report);
    markdown.verdict();
    Stream.of(Severity.ERROR, Severity.WARNING, Severity.NOTE).forEach(markdown::findings);
    markdown.accessPaths();
    markdown.coverage();
    return String.join("\n", markdown.lines) + "\n";
  }

  private void verdict() {
    lines.add("# Colonnade: " + Tally.findings(report));
    lines.add("");
    Coverage coverage = report.coverage();
    lines.add(
        String.format(
            Locale.ROOT,
            "%s: %s with %s, %s with %s of a table. %s",
            plain(report.dialect().nameWithVersion()),
            Numbers.count(report.schema().tables().size(), "table", "tables"),
            Numbers.count(Tally.indexes(report), "index", "indexes"),
            Numbers.count(coverage.queriesAnalysed(), "analysed query", "analysed queries"),
            Numbers.count(Tally.tableReads(report), "read", "reads"),
            coverage.isComplete()
                ? "Everything that was found was understood."
                : "Not everything was understood: see [Coverage](#coverage)."));
  }

  private void findings(Severity severity) {
    List<Finding> findings =
        report.findings().stream().filter(finding -> finding.severity() == severity).toList();
    if (findings.isEmpty()) {
      return;
    }
    heading(
        switch (severity) {
          case ERROR -> "Errors";
          case WARNING -> "Warnings";
          case NOTE -> "Notes";
          case OFF -> throw new IllegalArgumentException("no finding is off");
        });
    List<Finding> leftOut = new ArrayList<>();
    for (Finding finding : findings) {
      List<String> told = told(finding);
      if (leftOut.isEmpty() && length(lines) + length(told) <= ROOM_FOR_FINDINGS) {
        lines.addAll(told);
      } else {
        leftOut.add(finding);
      }
    }
    if (!leftOut.isEmpty()) {
      lines.add("");
      lines.add(
          Numbers.count(leftOut.size(), "finding", "findings")
              + " more of this severity in findings.sarif: "
              + byRule(leftOut)
              + ".");
    }
  }

  private static List<String> told(Finding finding) {
    List<String> told = new ArrayList<>();
    told.add("");
    told.add("### " + code(finding.ruleId()) + " " + plain(finding.title()));
    told.add("");
    told.add(
        place(finding.location())
            + finding.queryId().map(id -> ", query " + code(id)).orElse("")
            + (finding.restsOnAssumption() ? ", rests on an assumption" : ""));
    told.addAll(fenced(finding.evidence().stream().map(Evidence::render).toList()));
    return told;
  }

  private static String byRule(List<Finding> findings) {
    return findings.stream()
        .collect(Collectors.groupingBy(Finding::ruleId, TreeMap::new, Collectors.counting()))
        .entrySet()
        .stream()
        .map(entry -> entry.getValue() + " " + code(entry.getKey()))
        .collect(Collectors.joining(", "));
  }

  private static int length(List<String> lines) {
    return lines.stream().mapToInt(line -> line.length() + 1).sum();
  }

  private void accessPaths() {
    if (report.queries().isEmpty()) {
      return;
    }
    heading("Access paths");
    lines.add("");
    lines.add("| path | reads of a table |");
    lines.add("| --- | ---: |");
    Tally.paths(report)
        .forEach((path, count) -> lines.add("| " + path.word() + " | " + count + " |"));
    lines.add("");
    lines.add(
        "Numbers behind them: "
            + Tally.confidences(report).entrySet().stream()
                .map(entry -> entry.getValue() + " " + entry.getKey().word())
                .collect(Collectors.joining(", "))
            + ".");
  }

  private void coverage() {
    Coverage coverage = report.coverage();
    heading("Coverage");
    lines.add("");
    lines.add("| input | found | taken in | not understood |");
    lines.add("| --- | ---: | ---: | ---: |");
    lines.add(
        row(
            "changes",
            coverage.changes(),
            coverage.changesApplied(),
            coverage.changesNotUnderstood().size()));
    lines.add(
        row(
            "queries",
            coverage.queries(),
            coverage.queriesAnalysed(),
            coverage.queriesNotAnalysed().size()));
    if (coverage.changesApplied() < coverage.changes()) {
      lines.add("");
      lines.add(
          "Changes that do not run on this database, or not with these contexts and labels, are"
              + " found and not taken in.");
    }
    if (coverage.queriesWithoutText() > 0) {
      lines.add("");
      lines.add(
          Numbers.count(coverage.queriesWithoutText(), "query has", "queries have")
              + " no text before run time and "
              + (coverage.queriesWithoutText() == 1 ? "is" : "are")
              + " not counted here: what they read is not known.");
    }
    List<Gap> gaps = Gap.of(coverage);
    for (Gap.Kind kind : Gap.Kind.values()) {
      List<Gap> ofKind = gaps.stream().filter(gap -> gap.kind() == kind).toList();
      if (!ofKind.isEmpty()) {
        lines.add("");
        lines.add(
            switch (kind) {
              case CHANGE ->
                  "Changes not understood; the schema here may differ from the real one:";
              case QUERY -> "Queries not analysed:";
              case OTHER -> "Other input not understood:";
            });
        lines.add("");
        lines.addAll(listed(ofKind));
      }
    }
  }

  private static List<String> listed(List<Gap> gaps) {
    List<String> listed = new ArrayList<>();
    int room = ROOM_FOR_A_LIST;
    for (Gap gap : gaps) {
      String line = "- " + code(gap.location().toString()) + " " + plain(gap.text());
      room -= line.length() + 1;
      if (room < 0) {
        listed.add("- and " + (gaps.size() - listed.size()) + " more, all in findings.sarif");
        return listed;
      }
      listed.add(line);
    }
    return listed;
  }

  private static String row(String input, int found, int understood, int not) {
    return "| " + input + " | " + found + " | " + understood + " | " + not + " |";
  }

  private void heading(String text) {
    lines.add("");
    lines.add("## " + text);
  }

  private static List<String> fenced(List<String> block) {
    if (block.isEmpty()) {
      return List.of();
    }
    String fence = "`".repeat(Math.max(3, longestBackquotes(String.join("\n", block)) + 1));
    List<String> fenced = new ArrayList<>(List.of("", fence + "text"));
    fenced.addAll(block);
    fenced.add(fence);
    return fenced;
  }

  private static String place(SourceLocation location) {
    return code(location.toString())
        + location.changeSet().map(id -> ", change set " + code(id)).orElse("");
  }

  /** A code span, whatever back quotes the text has. */
  static String code(String text) {
    int longest = longestBackquotes(text);
    String quotes = "`".repeat(longest + 1);
    String pad = longest == 0 ? "" : " ";
    return quotes + pad + text + pad + quotes;
  }

  private static int longestBackquotes(String text) {
    int longest = 0;
    int current = 0;
    for (int i = 0; i < text.length(); i++) {
      current = text.charAt(i) == '`' ? current + 1 : 0;
      longest = Math.max(longest, current);
    }
    return longest;
  }

  /** Text without markup: whatever Markdown or HTML would read into it is escaped. */
  static String plain(String text) {
    return text.replaceAll("([\\\\`*_\\[\\]<>&|~#])", "\\\\$1");
  }
}
