package dev.colonnade.analysis;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Severity;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.source.MapperFiles;
import dev.colonnade.query.source.QueryAnnotation;
import dev.colonnade.query.source.RepositoryScanner;
import dev.colonnade.query.source.SqlFileReader;
import dev.colonnade.rule.RuleSettings;
import dev.colonnade.rules.RuleRegistry;
import dev.colonnade.schema.liquibase.ChangelogException;
import dev.colonnade.schema.liquibase.ChangelogInput;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import dev.colonnade.schema.liquibase.ChangelogReader;
import dev.colonnade.schema.liquibase.ChangelogResult;
import dev.colonnade.statistics.yaml.StatisticsFile;
import dev.colonnade.statistics.yaml.StatisticsFileException;
import dev.colonnade.statistics.yaml.StatisticsFileReader;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** Reads each part of the input through its adapter; what stops an adapter stops the analysis. */
final class InputReader {
  private final AnalysisInput input;

  InputReader(AnalysisInput input) {
    this.input = input;
  }

  Dialect dialect() throws AnalysisException {
    Optional<Dialect> dialect = Dialects.byShortName(input.database());
    if (dialect.isEmpty()) {
      throw AnalysisException.ofParameter(
          "database",
          "'"
              + input.database()
              + "' is not one of "
              + Dialects.all().stream().map(Dialect::shortName).collect(Collectors.joining(", ")));
    }
    return dialect.get();
  }

  RuleSettings settings() throws AnalysisException {
    Map<String, Severity> severities = new TreeMap<>();
    for (Map.Entry<String, String> entry : input.severities().entrySet()) {
      Optional<Severity> severity = Severity.ofWord(entry.getValue());
      if (severity.isEmpty()) {
        throw AnalysisException.ofParameter(
            "severities",
            "'"
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
      throw AnalysisException.ofParameter("severities", String.join("; ", problems));
    }
    return settings;
  }

  ChangelogResult changelog(Dialect dialect) throws AnalysisException {
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
      String files = roots.stream().map(RootChangelog::file).collect(Collectors.joining(", "));
      throw new AnalysisException("changelog " + files + ": " + QueryAnalysis.unexpected(e), e);
    }
  }

  Optional<StatisticsFile> statistics() throws AnalysisException {
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

  /** The queries of every place that the input names. */
  FoundQueries queries() {
    FoundQueries inFiles = new SqlFileReader(input.baseDirectory()).read(input.queryFiles());
    FoundQueries inMappers = MapperFiles.list(input.baseDirectory(), input.mapperFiles());
    return queriesInClasses().and(inFiles).and(inMappers);
  }

  private FoundQueries queriesInClasses() {
    List<QueryAnnotation> annotations =
        input.queryAnnotations().stream()
            .map(annotation -> QueryAnnotation.of(annotation.className(), annotation.attribute()))
            .toList();
    return input
        .classesDirectory()
        .map(
            classes ->
                new RepositoryScanner(
                        input.baseDirectory(), classes, input.sourceDirectories(), annotations)
                    .scan())
        .orElse(FoundQueries.NONE);
  }
}
