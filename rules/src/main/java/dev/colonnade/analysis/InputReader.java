package dev.colonnade.analysis;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Severity;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.mapping.source.AggregateReader;
import dev.colonnade.mapping.source.AggregateReading;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.mapping.source.MappingReading;
import dev.colonnade.mapping.xml.MappingFiles;
import dev.colonnade.mapping.xml.XmlMappings;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.SqlTemplates;
import dev.colonnade.query.mapper.TableNames;
import dev.colonnade.query.source.BodyScanner;
import dev.colonnade.query.source.BuiltQueries;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.source.MapperFiles;
import dev.colonnade.query.source.MappingFileQueries;
import dev.colonnade.query.source.NamedQueryFiles;
import dev.colonnade.query.source.QueryAnnotation;
import dev.colonnade.query.source.RepositoryScanner;
import dev.colonnade.query.source.SqlFileReader;
import dev.colonnade.query.source.SqlMethods;
import dev.colonnade.rule.RuleSettings;
import dev.colonnade.rules.RuleRegistry;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.liquibase.ChangelogException;
import dev.colonnade.schema.liquibase.ChangelogInput;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import dev.colonnade.schema.liquibase.ChangelogReader;
import dev.colonnade.schema.liquibase.ChangelogResult;
import dev.colonnade.statistics.yaml.StatisticsFile;
import dev.colonnade.statistics.yaml.StatisticsFileException;
import dev.colonnade.statistics.yaml.StatisticsFileReader;
import java.nio.file.Path;
import java.util.ArrayList;
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
    if (input.databaseVersion().isEmpty()) {
      return dialect.get();
    }
    try {
      return Dialects.atVersion(dialect.get(), input.databaseVersion().get());
    } catch (IllegalArgumentException e) {
      throw AnalysisException.ofParameter("databaseVersion", e.getMessage());
    }
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
              input.changelogParameters(),
              input.preconditionResults()));
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

  /** The queries of every place that the input names; those over entities in SQL. */
  FoundQueries queries(Schema schema, Dialect dialect) throws AnalysisException {
    FoundQueries inFiles = new SqlFileReader(input.baseDirectory()).read(input.queryFiles());
    FoundQueries inMappers = MapperFiles.read(mappers(schema), mapperFiles());
    return queriesInClasses(schema, dialect).and(inFiles).and(inMappers);
  }

  /** Those that are named, else those among the classes. */
  private List<Path> mapperFiles() {
    return input.mapperFiles().isEmpty() && input.classesDirectory().isPresent()
        ? MapperFiles.among(input.classesDirectory().get(), resourceDirectories())
        : input.mapperFiles();
  }

  private MapperReader mappers(Schema schema) {
    List<String> names = new ArrayList<>();
    schema.tables().forEach(table -> names.add(table.name().unqualified().text()));
    schema.views().forEach(view -> names.add(view.name().unqualified().text()));
    return new MapperReader(
        input.baseDirectory(), input.database(), input.mapperProperties(), new TableNames(names));
  }

  private FoundQueries queriesInClasses(Schema schema, Dialect dialect) throws AnalysisException {
    if (input.classesDirectory().isEmpty()) {
      return FoundQueries.NONE;
    }
    Path directory = input.classesDirectory().get();
    List<QueryAnnotation> annotations =
        input.queryAnnotations().stream()
            .map(annotation -> QueryAnnotation.of(annotation.className(), annotation.attribute()))
            .toList();
    XmlMappings files = MappingFiles.read(input.baseDirectory(), directory, resourceDirectories());
    ClassFiles classes =
        ClassFiles.read(input.baseDirectory(), directory, files.classes(), input.classPath());
    MappingReading mapping = mapping(classes, schema);
    AggregateReading aggregates = aggregates(classes, schema, mapping);
    List<Path> sourcesFirst = new ArrayList<>(resourceDirectories());
    sourcesFirst.add(directory);
    NamedQueryFiles named = NamedQueryFiles.read(input.baseDirectory(), sourcesFirst);
    FoundQueries found =
        new RepositoryScanner(
                input.baseDirectory(), directory, input.sourceDirectories(), annotations)
            .scan(
                classes,
                mapping.mapping(),
                aggregates.aggregates(),
                named.names(),
                dialect.shortName());
    FoundQueries inBodies =
        new BodyScanner(input.baseDirectory(), input.sourceDirectories())
            .scan(classes, mapping.mapping(), dialect.shortName());
    FoundQueries withoutText =
        new BuiltQueries(input.baseDirectory(), input.sourceDirectories()).scan(classes);
    FoundQueries inMappingFiles =
        MappingFileQueries.read(files.queries(), mapping.mapping(), dialect.shortName());
    List<Path> resources = new ArrayList<>(List.of(directory));
    resources.addAll(resourceDirectories());
    FoundQueries onMethods =
        SqlMethods.scan(
            new SqlMethods.Setting(
                input.baseDirectory(),
                resources,
                input.sourceDirectories(),
                annotations,
                mappers(schema),
                new SqlTemplates(input.database())),
            classes);
    return found
        .and(inBodies)
        .and(withoutText)
        .and(onMethods)
        .and(inMappingFiles)
        .and(named.queries(mapping.mapping(), dialect.shortName()))
        .and(new FoundQueries(List.of(), List.of(), files.problems()))
        .and(new FoundQueries(List.of(), List.of(), problems(mapping, directory)))
        .and(new FoundQueries(List.of(), List.of(), aggregates.problems()));
  }

  /** Beside sources lie the files that are copied among the classes, as Maven lays them out. */
  private List<Path> resourceDirectories() {
    return input.sourceDirectories().stream()
        .map(directory -> directory.resolveSibling("resources"))
        .toList();
  }

  /** What does not fit the schema; and then also how names were taken, which may be the cause. */
  private List<NotUnderstood> problems(MappingReading mapping, Path directory) {
    List<NotUnderstood> problems = new ArrayList<>(mapping.problems());
    if (!problems.isEmpty()) {
      SourceLocation place = SourceLocation.of(RelativePath.of(input.baseDirectory(), directory));
      mapping.guess().ifPresent(guess -> problems.add(new NotUnderstood(place, guess)));
    }
    return problems;
  }

  /** What the repositories of Spring Data are for, unless Jakarta Persistence keeps it. */
  private static AggregateReading aggregates(
      ClassFiles classes, Schema schema, MappingReading mapping) {
    Map<String, Boolean> domainTypes = RepositoryScanner.domainTypes(classes);
    domainTypes.keySet().removeIf(it -> mapping.mapping().ofClass(it).isPresent());
    return new AggregateReader(classes, schema).read(domainTypes);
  }

  private MappingReading mapping(ClassFiles classes, Schema schema) throws AnalysisException {
    MappingReader reader = new MappingReader(classes, schema);
    if (input.namingStrategy().isEmpty()) {
      return reader.guess();
    }
    String word = input.namingStrategy().get();
    for (NamingStrategy strategy : NamingStrategy.values()) {
      if (strategy.word().equals(word)) {
        return reader.read(strategy);
      }
    }
    throw AnalysisException.ofParameter(
        "namingStrategy", "'" + word + "' is not one of jpa, snake_case");
  }
}
