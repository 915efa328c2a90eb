package dev.colonnade.analysis;

import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Everything that one run of the analysis is given. Relative paths are resolved against the base
 * directory, and files below it appear in every report relative to it.
 *
 * @param baseDirectory the directory of the service's pom
 * @param database Liquibase's short name of the database
 * @param databaseVersion the version as its maker writes it; empty for the newest
 * @param changelogs root changelogs in the order in which the service runs them
 * @param changelogSearchRoots directories and jars in which changelog paths are looked up, in order
 * @param changelogParameters values of {@code ${name}} in changelogs
 * @param preconditionResults whether preconditions hold that only a database could decide, by
 *     {@code id::author} of their change set
 * @param queryFiles files of SQL statements, each ended by a semicolon
 * @param queryAnnotations further annotations that hold native SQL
 * @param mapperFiles mapper files that hold queries; without any, those among the classes
 * @param mapperProperties values of {@code ${name}} in mappers, as MyBatis is configured with them
 * @param classesDirectory compiled classes of the service, which are read and never loaded
 * @param classPath jars and class directories that the service is compiled against
 * @param sourceDirectories sources of the service, for the line of a query
 * @param statisticsFile row counts and the like
 * @param acceptedFile findings that were accepted before
 * @param severities severity ({@code error}, {@code warning}, {@code note}, {@code off}) by rule id
 * @param outputDirectory where reports are written
 * @param namingStrategy how names of tables and columns follow from entities: {@code jpa} or {@code
 *     snake_case}; empty where it is to be guessed
 */
public record AnalysisInput(
    Path baseDirectory,
    String database,
    Optional<String> databaseVersion,
    List<Changelog> changelogs,
    List<Path> changelogSearchRoots,
    SortedMap<String, String> changelogParameters,
    SortedMap<String, Boolean> preconditionResults,
    List<Path> queryFiles,
    List<QueryAnnotation> queryAnnotations,
    List<Path> mapperFiles,
    SortedMap<String, String> mapperProperties,
    Optional<Path> classesDirectory,
    List<Path> classPath,
    List<Path> sourceDirectories,
    Optional<Path> statisticsFile,
    Optional<Path> acceptedFile,
    SortedMap<String, String> severities,
    Path outputDirectory,
    Optional<String> namingStrategy) {

  /** Makes every path absolute and copies the collections. */
  public AnalysisInput {
    baseDirectory = baseDirectory.toAbsolutePath().normalize();
    changelogs = List.copyOf(changelogs);
    changelogSearchRoots = absolute(baseDirectory, changelogSearchRoots);
    changelogParameters = Collections.unmodifiableSortedMap(new TreeMap<>(changelogParameters));
    preconditionResults = Collections.unmodifiableSortedMap(new TreeMap<>(preconditionResults));
    queryFiles = absolute(baseDirectory, queryFiles);
    queryAnnotations = List.copyOf(queryAnnotations);
    mapperFiles = absolute(baseDirectory, mapperFiles);
    mapperProperties = Collections.unmodifiableSortedMap(new TreeMap<>(mapperProperties));
    classesDirectory = classesDirectory.map(baseDirectory::resolve);
    classPath = absolute(baseDirectory, classPath);
    sourceDirectories = absolute(baseDirectory, sourceDirectories);
    statisticsFile = statisticsFile.map(baseDirectory::resolve);
    acceptedFile = acceptedFile.map(baseDirectory::resolve);
    severities = Collections.unmodifiableSortedMap(new TreeMap<>(severities));
    outputDirectory = baseDirectory.resolve(outputDirectory).normalize();
  }

  private static List<Path> absolute(Path base, List<Path> paths) {
    return paths.stream().map(path -> base.resolve(path).normalize()).toList();
  }

  /**
   * One root changelog.
   *
   * @param file its path as Liquibase would be given it
   * @param contexts contexts that it is run with, separated by commas; empty takes every change set
   * @param labels label expression that it is run with; empty takes every change set
   */
  public record Changelog(String file, Optional<String> contexts, Optional<String> labels) {
    /** A changelog that is run without contexts and labels. */
    public static Changelog of(String file) {
      return new Changelog(file, Optional.empty(), Optional.empty());
    }
  }

  /**
   * An annotation whose attribute holds native SQL.
   *
   * @param className fully qualified
   * @param attribute name of the attribute
   */
  public record QueryAnnotation(String className, String attribute) {}

  /** Starts an input: what every run needs. */
  public static Builder builder(Path baseDirectory, String database) {
    return new Builder(baseDirectory, database);
  }

  /** Collects an input step by step; what is not set stays empty. */
  public static final class Builder {
    private final Path baseDirectory;
    private final String database;
    private Optional<String> databaseVersion = Optional.empty();
    private List<Changelog> changelogs = List.of();
    private List<Path> changelogSearchRoots;
    private Map<String, String> changelogParameters = Map.of();
    private Map<String, Boolean> preconditionResults = Map.of();
    private List<Path> queryFiles = List.of();
    private List<QueryAnnotation> queryAnnotations = List.of();
    private List<Path> mapperFiles = List.of();
    private Map<String, String> mapperProperties = Map.of();
    private Optional<Path> classesDirectory = Optional.empty();
    private List<Path> classPath = List.of();
    private List<Path> sourceDirectories = List.of();
    private Optional<Path> statisticsFile = Optional.empty();
    private Optional<Path> acceptedFile = Optional.empty();
    private Map<String, String> severities = Map.of();
    private Optional<String> namingStrategy = Optional.empty();
    private Path outputDirectory = Path.of("target", "colonnade");

    private Builder(Path baseDirectory, String database) {
      this.baseDirectory = baseDirectory;
      this.database = database;
      this.changelogSearchRoots = List.of(baseDirectory);
    }

    /** The version of the database: {@code 15}, {@code 8.0.36}; default: the newest. */
    public Builder databaseVersion(Optional<String> value) {
      databaseVersion = value;
      return this;
    }

    /** The root changelogs, in order. */
    public Builder changelogs(List<Changelog> value) {
      changelogs = value;
      return this;
    }

    /** Directories and jars in which changelog paths are looked up; default: the base directory. */
    public Builder changelogSearchRoots(List<Path> value) {
      changelogSearchRoots = value;
      return this;
    }

    /** Values of {@code ${name}} in changelogs. */
    public Builder changelogParameters(Map<String, String> value) {
      changelogParameters = value;
      return this;
    }

    /**
     * Whether preconditions hold that only a database could decide, by {@code id::author} of their
     * change set.
     */
    public Builder preconditionResults(Map<String, Boolean> value) {
      preconditionResults = value;
      return this;
    }

    /** Files of SQL statements. */
    public Builder queryFiles(List<Path> value) {
      queryFiles = value;
      return this;
    }

    /** Further annotations that hold native SQL. */
    public Builder queryAnnotations(List<QueryAnnotation> value) {
      queryAnnotations = value;
      return this;
    }

    /** Mapper files. */
    public Builder mapperFiles(List<Path> value) {
      mapperFiles = value;
      return this;
    }

    /** Values of {@code ${name}} in mappers. */
    public Builder mapperProperties(Map<String, String> value) {
      mapperProperties = value;
      return this;
    }

    /** Compiled classes of the service. */
    public Builder classesDirectory(Path value) {
      classesDirectory = Optional.of(value);
      return this;
    }

    /** Jars and class directories that the service is compiled against. */
    public Builder classPath(List<Path> value) {
      classPath = value;
      return this;
    }

    /** Sources of the service. */
    public Builder sourceDirectories(List<Path> value) {
      sourceDirectories = value;
      return this;
    }

    /** The statistics file. */
    public Builder statisticsFile(Optional<Path> value) {
      statisticsFile = value;
      return this;
    }

    /** The accepted findings. */
    public Builder acceptedFile(Optional<Path> value) {
      acceptedFile = value;
      return this;
    }

    /** Severity by rule id. */
    public Builder severities(Map<String, String> value) {
      severities = value;
      return this;
    }

    /** How names follow from entities; default: guessed. */
    public Builder namingStrategy(Optional<String> value) {
      namingStrategy = value;
      return this;
    }

    /** Where reports are written; default: {@code target/colonnade}. */
    public Builder outputDirectory(Path value) {
      outputDirectory = value;
      return this;
    }

    /** The input. */
    public AnalysisInput build() {
      return new AnalysisInput(
          baseDirectory,
          database,
          databaseVersion,
          changelogs,
          changelogSearchRoots,
          new TreeMap<>(changelogParameters),
          new TreeMap<>(preconditionResults),
          queryFiles,
          queryAnnotations,
          mapperFiles,
          new TreeMap<>(mapperProperties),
          classesDirectory,
          classPath,
          sourceDirectories,
          statisticsFile,
          acceptedFile,
          new TreeMap<>(severities),
          outputDirectory,
          namingStrategy);
    }
  }
}
