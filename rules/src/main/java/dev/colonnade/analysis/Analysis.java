package dev.colonnade.analysis;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.ForeignKeyChecks;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.jpql.SqlNames;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.report.ConsoleReport;
import dev.colonnade.report.Coverage;
import dev.colonnade.report.ExplainReport;
import dev.colonnade.report.Report;
import dev.colonnade.report.ReportFiles;
import dev.colonnade.report.RuleDescription;
import dev.colonnade.rule.Rule;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleSettings;
import dev.colonnade.rules.RuleRegistry;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.liquibase.ChangelogResult;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.yaml.StatisticsFile;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The one road from the files of a service to what is said about it. */
public final class Analysis {
  private Analysis() {}

  /**
   * Reads changelogs and queries, works out every access path and applies the rules. Writes
   * nothing.
   *
   * @throws AnalysisException when the input cannot be read; a single query or change that is not
   *     understood is an entry of the coverage instead
   */
  public static AnalysisResult run(AnalysisInput input) throws AnalysisException {
    InputReader reader = new InputReader(input);
    Dialect dialect = reader.dialect();
    RuleSettings settings = reader.settings();
    ChangelogResult changelog = reader.changelog(dialect);
    Optional<StatisticsFile> statistics = reader.statistics();
    FoundQueries found = reader.queries(changelog.schema(), dialect);

    AccessPathAnalyzer analyzer =
        new AccessPathAnalyzer(
            changelog.schema(),
            dialect,
            statistics
                .map(file -> file.statisticsOf(changelog.schema()))
                .orElse(Statistics.NONE)
                .withLoadedRows(changelog.rowsLoaded()));
    QueryAnalysis queries =
        new QueryAnalysis(new StatementParser(changelog.schema(), dialect), analyzer);
    found.queries().forEach(queries::add);
    List<QueryText> checks =
        ForeignKeyChecks.of(
            changelog.schema(),
            queries.analysed().stream().map(QueryAccess::query).toList(),
            new SqlNames(dialect.shortName())::write);
    checks.forEach(queries::add);
    found = found.and(new FoundQueries(checks, List.of(), List.of()));
    QueryCounts counts = QueryCounts.of(found, queries.analysed(), queries.notAnalysed());
    List<Finding> findings =
        findings(new RuleContext(analyzer, queries.analysed(), counts.shareWritten(), settings));

    List<NotUnderstood> other = new ArrayList<>(found.unreadable());
    other.addAll(counts.partly());
    statistics.ifPresent(file -> other.addAll(problems(file, changelog.schema())));
    input.acceptedFile().ifPresent(file -> other.add(notRead(input.baseDirectory(), file)));
    Report report =
        new Report(
            dialect,
            changelog.schema(),
            queries.analysed(),
            findings,
            rules(settings),
            coverage(changelog, counts, found.withoutText(), other));
    return new AnalysisResult(report, analyzer);
  }

  private static List<NotUnderstood> problems(StatisticsFile statistics, Schema schema) {
    List<NotUnderstood> problems = new ArrayList<>(statistics.problems());
    problems.addAll(statistics.unknownNames(schema));
    return problems;
  }

  private static NotUnderstood notRead(Path baseDirectory, Path acceptedFile) {
    return new NotUnderstood(
        SourceLocation.of(RelativePath.of(baseDirectory, acceptedFile)),
        "accepted findings are not taken into account yet");
  }

  private static Coverage coverage(
      ChangelogResult changelog, QueryCounts queries, int withoutText, List<NotUnderstood> other) {
    return new Coverage(
        changelog.total(),
        changelog.applied(),
        changelog.notUnderstood(),
        queries.found(),
        queries.analysed(),
        queries.notAnalysed(),
        withoutText,
        other);
  }

  /** A broken rule is a malfunction: without its findings a build must not pass. */
  private static List<Finding> findings(RuleContext context) throws AnalysisException {
    List<Finding> findings = new ArrayList<>();
    for (Rule rule : RuleRegistry.rules()) {
      try {
        findings.addAll(RuleRegistry.check(rule, context));
      } catch (RuntimeException e) {
        throw new AnalysisException(
            "rule " + rule.metadata().id() + ": " + QueryAnalysis.unexpected(e), e);
      }
    }
    return ToldOnce.of(findings, context.queries());
  }

  /** What the reports say about the rules that are on. */
  private static List<RuleDescription> rules(RuleSettings settings) {
    return RuleRegistry.metadata().stream()
        .filter(rule -> settings.severity(rule) != Severity.OFF)
        .map(RuleExplanation::describe)
        .toList();
  }

  /**
   * Writes every report into the output directory of the input. When one cannot be written, all
   * files of an earlier run stay as they are.
   *
   * @throws AnalysisException when a file cannot be written
   */
  public static void writeReports(AnalysisResult result, AnalysisInput input)
      throws AnalysisException {
    try {
      ReportFiles.write(result.report(), input.outputDirectory());
    } catch (IOException e) {
      throw new AnalysisException(
          "outputDirectory: cannot write the reports to " + input.outputDirectory() + ": " + e, e);
    }
  }

  /** The summary for the console, line by line. */
  public static List<String> summary(AnalysisResult result) {
    return ConsoleReport.lines(result.report());
  }

  /**
   * One query explained, line by line.
   *
   * @throws AnalysisException when no query has that id, with the closest ones; or when the query
   *     was not analysed, with the reason
   */
  public static List<String> explain(AnalysisResult result, String queryId)
      throws AnalysisException {
    List<QueryAccess> named =
        result.report().queries().stream()
            .filter(access -> access.query().id().equals(queryId))
            .toList();
    if (named.isEmpty()) {
      throw new AnalysisException(QueryIdSearch.missing(result.report(), queryId));
    }
    return named.stream()
        .flatMap(access -> ExplainReport.lines(access, result.analyzer()).stream())
        .toList();
  }
}
