package dev.colonnade.analysis;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.UnanalysedQuery;
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
import dev.colonnade.schema.liquibase.ChangelogException;
import dev.colonnade.schema.liquibase.ChangelogInput;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import dev.colonnade.schema.liquibase.ChangelogReader;
import dev.colonnade.schema.liquibase.ChangelogResult;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.yaml.StatisticsFile;
import dev.colonnade.statistics.yaml.StatisticsFileException;
import dev.colonnade.statistics.yaml.StatisticsFileReader;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;

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
    Dialect dialect = dialect(input.database());
    RuleSettings settings = settings(input.severities());
    ChangelogResult changelog = changelog(input, dialect);
    Optional<StatisticsFile> statistics = statistics(input);
    FoundQueries found = QueryCollector.collect(input);

    AccessPathAnalyzer analyzer =
        new AccessPathAnalyzer(
            changelog.schema(),
            dialect,
            statistics.map(StatisticsFile::statistics).orElse(Statistics.NONE));
    QueryAnalysis queries =
        new QueryAnalysis(new StatementParser(changelog.schema(), dialect), analyzer);
    found.queries().forEach(queries::add);
    RuleContext context = new RuleContext(analyzer, queries.analysed(), found.total(), settings);
    List<Finding> findings = findings(context);

    List<UnanalysedQuery> notAnalysed = new ArrayList<>(found.unanalysed());
    notAnalysed.addAll(queries.notAnalysed());
    List<NotUnderstood> other = new ArrayList<>(found.unreadable());
    statistics.ifPresent(
        file -> {
          other.addAll(file.problems());
          other.addAll(file.unknownNames(changelog.schema()));
        });
    Coverage coverage =
        new Coverage(
            changelog.total(),
            changelog.applied(),
            changelog.notUnderstood(),
            found.total(),
            queries.analysed().size(),
            notAnalysed,
            other);
    return new AnalysisResult(
        new Report(
            dialect, changelog.schema(), queries.analysed(), findings, rules(settings), coverage),
        analyzer);
  }

  private static Dialect dialect(String name) throws AnalysisException {
    Optional<Dialect> dialect = Dialects.byShortName(name);
    if (dialect.isEmpty()) {
      throw new AnalysisException(
          "database: '"
              + name
              + "' is not one of "
              + Dialects.all().stream().map(Dialect::shortName).collect(Collectors.joining(", ")));
    }
    return dialect.get();
  }

  private static RuleSettings settings(Map<String, String> words) throws AnalysisException {
    Map<String, Severity> severities = new TreeMap<>();
    for (Map.Entry<String, String> entry : words.entrySet()) {
      Optional<Severity> severity = Severity.ofWord(entry.getValue());
      if (severity.isEmpty()) {
        throw new AnalysisException(
            "severities: '"
                + entry.getValue()
                + "' for rule '"
                + entry.getKey()
                + "' is not one of error, warning, note, off");
      }
      severities.put(entry.getKey(), severity.get());
    }
    RuleSettings settings = new RuleSettings(severities, Map.of());
    List<String> problems = settings.problems(RuleRegistry.metadata());
    if (!problems.isEmpty()) {
      throw new AnalysisException("severities: " + String.join("; ", problems));
    }
    return settings;
  }

  private static ChangelogResult changelog(AnalysisInput input, Dialect dialect)
      throws AnalysisException {
    List<RootChangelog> roots =
        input.changelogs().stream()
            .map(root -> new RootChangelog(root.file(), root.contexts(), root.labels()))
            .toList();
    try {
      return ChangelogReader.read(
          new ChangelogInput(
              dialect,
              input.baseDirectory(),
              input.changelogSearchRoots(),
              roots,
              input.changelogParameters()));
    } catch (ChangelogException e) {
      throw new AnalysisException("changelog " + e.getMessage(), e);
    } catch (RuntimeException e) {
      throw new AnalysisException(
          "changelog "
              + roots.stream().map(RootChangelog::file).collect(Collectors.joining(", "))
              + ": "
              + QueryAnalysis.unexpected(e),
          e);
    }
  }

  private static Optional<StatisticsFile> statistics(AnalysisInput input) throws AnalysisException {
    if (input.statisticsFile().isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(
          new StatisticsFileReader(input.baseDirectory()).read(input.statisticsFile().get()));
    } catch (StatisticsFileException e) {
      throw new AnalysisException(e.getMessage(), e);
    }
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
    return findings.stream().sorted().distinct().toList();
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
