package dev.colonnade.plugin;

import dev.colonnade.analysis.AnalysisException;
import dev.colonnade.analysis.AnalysisInput;
import dev.colonnade.finding.Severity;
import java.io.File;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.apache.maven.plugin.AbstractMojo;
import org.apache.maven.plugin.MojoExecutionException;
import org.apache.maven.plugin.MojoFailureException;
import org.apache.maven.plugins.annotations.Parameter;
import org.apache.maven.project.MavenProject;

/** The parameters that all goals share. */
abstract class AbstractColonnadeMojo extends AbstractMojo {
  private static final Object LOCK = new Object();

  @Parameter(defaultValue = "${project}", readonly = true, required = true)
  private MavenProject project;

  /** The root changelog, as Liquibase would be given it. Either this or {@code changelogs}. */
  @Parameter(property = "colonnade.changelogFile")
  private String changelogFile;

  /**
   * Several root changelogs in the order in which the service runs them, each with {@code file},
   * {@code contexts} and {@code labels}. On the command line: files, separated by commas.
   */
  @Parameter(property = "colonnade.changelogs")
  private List<Changelog> changelogs;

  /**
   * Where changelog paths are looked up, in this order. Default: {@code src/main/resources}, the
   * base directory, then the dependencies' jars.
   */
  @Parameter(property = "colonnade.changelogDirectories")
  private List<File> changelogDirectories;

  /**
   * The database by its Liquibase short name: {@code postgresql}, {@code mysql}, {@code mariadb},
   * {@code oracle}, {@code mssql}, {@code db2}, {@code sqlite}, {@code h2}, {@code hsqldb} or
   * {@code derby}. Needed unless {@code skip} is set.
   */
  @Parameter(property = "colonnade.database")
  private String database;

  /**
   * The version of the database as its maker writes it: {@code 15}, {@code 8.0.36}, {@code 19c}.
   * Some databases learnt new paths or new kinds of index with a version. Default: the newest.
   */
  @Parameter(property = "colonnade.databaseVersion")
  private String databaseVersion;

  /**
   * How names of tables and columns follow from entities that do not name them: {@code jpa} (the
   * rules of the JPA specification) or {@code snake_case}. Default: the one whose names the schema
   * has.
   */
  @Parameter(property = "colonnade.namingStrategy")
  private String namingStrategy;

  /** The Liquibase contexts, separated by commas. Default: none, which takes every change set. */
  @Parameter(property = "colonnade.contexts")
  private String contexts;

  /** The Liquibase label expression. Default: none, which takes every change set. */
  @Parameter(property = "colonnade.labels")
  private String labels;

  /** Changelog parameters, name to value, as {@code ${name}} in a changelog reads them. */
  @Parameter private Map<String, String> changelogParameters;

  /**
   * Changelog parameters on the command line, {@code name=value,name=value}; added to {@code
   * changelogParameters} and over them.
   */
  @Parameter(property = "colonnade.changelogParameters", readonly = true)
  private String changelogParametersText;

  /**
   * Whether preconditions hold that only a database could decide ({@code sqlCheck}, custom ones):
   * each a {@code property} with {@code name}, which is the change set's {@code id::author} or
   * {@code file::id::author}, and {@code value}, {@code true} or {@code false}. Default: they are
   * taken to hold, and the coverage says so.
   */
  @Parameter private Properties preconditionResults;

  /**
   * Results of preconditions on the command line, {@code id::author=true,id::author=false}; added
   * to {@code preconditionResults} and over them.
   */
  @Parameter(property = "colonnade.preconditionResults", readonly = true)
  private String preconditionResultsText;

  /** Values of {@code ${name}} in mapper files, as MyBatis is configured with them. */
  @Parameter private Map<String, String> mapperProperties;

  /**
   * Mapper properties on the command line, {@code name=value,name=value}; added to {@code
   * mapperProperties} and over them.
   */
  @Parameter(property = "colonnade.mapperProperties", readonly = true)
  private String mapperPropertiesText;

  /**
   * The {@code .sql} files that hold queries: {@code directory} (default: the base directory),
   * {@code includes} and {@code excludes}. Each statement, ended by a semicolon, is one query. On
   * the command line: patterns below the base directory, separated by commas.
   */
  @Parameter(property = "colonnade.queryFiles")
  private FileSelection queryFiles;

  /**
   * Annotations other than Spring Data's that hold native SQL, each with {@code className} and
   * {@code attribute} (default {@code value}). On the command line: {@code class#attribute},
   * separated by commas.
   */
  @Parameter(property = "colonnade.queryAnnotations")
  private List<QueryAnnotation> queryAnnotations;

  /**
   * The mapper XML files that hold queries; like {@code queryFiles}. Without any, those among the
   * classes.
   */
  @Parameter(property = "colonnade.mapperFiles")
  private FileSelection mapperFiles;

  /** The service's compiled classes. They are read, never loaded. */
  @Parameter(
      property = "colonnade.classesDirectory",
      defaultValue = "${project.build.outputDirectory}")
  private File classesDirectory;

  /**
   * The service's sources, for the line of a query. Default: those that the build compiles, and
   * {@code src/main/kotlin}.
   */
  @Parameter(property = "colonnade.sourceDirectories")
  private List<File> sourceDirectories;

  /** The statistics file. Default: {@code colonnade/statistics.yaml} where it exists. */
  @Parameter(property = "colonnade.statisticsFile")
  private File statisticsFile;

  /** The accepted findings. Default: {@code colonnade/accepted.yaml} where it exists. */
  @Parameter(property = "colonnade.acceptedFile")
  private File acceptedFile;

  /** Where the files are written. */
  @Parameter(
      property = "colonnade.outputDirectory",
      defaultValue = "${project.build.directory}/colonnade")
  private File outputDirectory;

  /** What fails the build: {@code error}, {@code warning} (or worse), or {@code never}. */
  @Parameter(property = "colonnade.failOn", defaultValue = "error")
  private String failOn;

  /** Severity by rule id: {@code error}, {@code warning}, {@code note} or {@code off}. */
  @Parameter private Map<String, String> severities;

  /**
   * Severities on the command line, {@code rule=severity,rule=severity}; added to {@code
   * severities} and over them.
   */
  @Parameter(property = "colonnade.severities", readonly = true)
  private String severitiesText;

  /** Does nothing at all where {@code true}. */
  @Parameter(property = "colonnade.skip", defaultValue = "false")
  private boolean skip;

  @Override
  public final void execute() throws MojoExecutionException, MojoFailureException {
    if (skip) {
      getLog().info("Skipped, as colonnade.skip says");
      return;
    }
    AnalysisInput input = gather();
    FailOn threshold = threshold();
    // Liquibase keeps registries for the whole class loader, which modules built at the same time
    // share.
    synchronized (LOCK) {
      try {
        run(input, threshold);
      } catch (AnalysisException e) {
        throw new MojoExecutionException(
            (e.isAboutParameter() ? project.getFile() + ": " : "") + e.getMessage(), e);
      }
    }
  }

  /**
   * What the goal does once its parameters are known to make sense.
   *
   * @param input what to analyse
   * @param failOn which findings fail the build
   */
  abstract void run(AnalysisInput input, FailOn failOn)
      throws AnalysisException, MojoExecutionException, MojoFailureException;

  private SortedMap<String, Boolean> preconditionResults() throws MojoExecutionException {
    SortedMap<String, Boolean> results = new TreeMap<>();
    Map<String, String> configured = new TreeMap<>();
    if (preconditionResults != null) {
      preconditionResults.forEach(
          (name, value) -> configured.put(String.valueOf(name), String.valueOf(value)));
    }
    for (Map.Entry<String, String> result :
        NamedValues.merge(complaint(), "preconditionResults", configured, preconditionResultsText)
            .entrySet()) {
      String value = result.getValue().trim();
      if (!value.equals("true") && !value.equals("false")) {
        throw complaint()
            .about(
                "preconditionResults",
                "'" + value + "' for " + result.getKey() + " is neither true nor false");
      }
      results.put(result.getKey().trim(), value.equals("true"));
    }
    return results;
  }

  private AnalysisInput gather() throws MojoExecutionException {
    List<AnalysisInput.Changelog> roots = roots();
    ServiceFiles files = new ServiceFiles(project, complaint());
    List<Path> searchRoots = files.changelogSearchRoots(changelogDirectories);
    AnalysisInput.Builder input =
        AnalysisInput.builder(files.baseDirectory(), required("database", database))
            .databaseVersion(present(databaseVersion))
            .changelogs(roots)
            .changelogSearchRoots(searchRoots)
            .changelogParameters(
                NamedValues.merge(
                    complaint(),
                    "changelogParameters",
                    changelogParameters,
                    changelogParametersText))
            .preconditionResults(preconditionResults())
            .queryFiles(files.selected("queryFiles", queryFiles, "**/*.sql"))
            .queryAnnotations(annotations())
            .mapperFiles(files.selected("mapperFiles", mapperFiles, "**/*.xml"))
            .mapperProperties(
                NamedValues.merge(
                    complaint(), "mapperProperties", mapperProperties, mapperPropertiesText))
            .classPath(files.dependencies())
            .sourceDirectories(files.sources(sourceDirectories))
            .namingStrategy(present(namingStrategy))
            .statisticsFile(
                files.file("statisticsFile", statisticsFile, "colonnade/statistics.yaml"))
            .acceptedFile(files.file("acceptedFile", acceptedFile, "colonnade/accepted.yaml"))
            .severities(severities())
            .outputDirectory(outputDirectory.toPath());
    if (classesDirectory.isDirectory()) {
      input.classesDirectory(classesDirectory.toPath());
    } else if (!"pom".equals(project.getPackaging())) {
      getLog()
          .warn(
              "classesDirectory: "
                  + files.shown(classesDirectory.toPath())
                  + " is not a directory: queries in annotations are not read");
    }
    return input.build();
  }

  private List<AnalysisInput.Changelog> roots() throws MojoExecutionException {
    List<Changelog> several = changelogs == null ? List.of() : changelogs;
    Optional<String> one = present(changelogFile);
    if (one.isPresent()) {
      if (!several.isEmpty()) {
        throw complaint().about("changelogs", "set this or changelogFile, not both");
      }
      return List.of(
          new AnalysisInput.Changelog(one.orElseThrow(), present(contexts), present(labels)));
    }
    if (several.isEmpty()) {
      throw complaint().about("changelogFile", "not set; it names the root changelog");
    }
    List<AnalysisInput.Changelog> roots = new ArrayList<>();
    for (Changelog root : several) {
      roots.add(
          new AnalysisInput.Changelog(
              required("changelogs", root.file(), "an element has no file"),
              present(root.contexts()).or(() -> present(contexts)),
              present(root.labels()).or(() -> present(labels))));
    }
    return roots;
  }

  private List<AnalysisInput.QueryAnnotation> annotations() throws MojoExecutionException {
    List<AnalysisInput.QueryAnnotation> annotations = new ArrayList<>();
    if (queryAnnotations != null) {
      for (QueryAnnotation annotation : queryAnnotations) {
        annotations.add(
            new AnalysisInput.QueryAnnotation(
                required("queryAnnotations", annotation.className(), "an element has no className"),
                annotation.attribute()));
      }
    }
    return annotations;
  }

  private SortedMap<String, String> severities() throws MojoExecutionException {
    SortedMap<String, String> merged =
        NamedValues.merge(complaint(), "severities", severities, severitiesText);
    for (Map.Entry<String, String> entry : merged.entrySet()) {
      if (Severity.ofWord(entry.getValue()).isEmpty()) {
        throw complaint()
            .about(
                "severities",
                "'"
                    + entry.getValue()
                    + "' for rule "
                    + entry.getKey()
                    + " is not one of "
                    + words(Severity.values()));
      }
    }
    return merged;
  }

  private FailOn threshold() throws MojoExecutionException {
    return FailOn.ofWord(failOn)
        .orElseThrow(
            () ->
                complaint()
                    .about("failOn", "'" + failOn + "' is not one of " + words(FailOn.values())));
  }

  /** The trimmed value of a parameter that the goal cannot do without. */
  final String required(String parameter, String value) throws MojoExecutionException {
    return required(parameter, value, "not set");
  }

  private String required(String parameter, String value, String trouble)
      throws MojoExecutionException {
    return present(value).orElseThrow(() -> complaint().about(parameter, trouble));
  }

  private static String words(Enum<?>[] values) {
    return Stream.of(values).map(Enum::toString).collect(Collectors.joining(", "));
  }

  private static Optional<String> present(String value) {
    return Optional.ofNullable(value).map(String::trim).filter(text -> !text.isEmpty());
  }

  private Complaint complaint() {
    return new Complaint(project.getFile().toPath());
  }
}
