package dev.colonnade.schema.liquibase;

import dev.colonnade.dialect.Dialect;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What is to be read.
 *
 * @param dialect the database that the changelog is meant for
 * @param baseDirectory the directory to which places are relative
 * @param roots where changelogs are looked up, in this order: directories and jar files
 * @param changelogs root changelogs, run one after another against one database
 * @param parameters values of changelog parameters, by name
 * @param preconditionResults whether the preconditions hold of change sets for which that cannot be
 *     decided here, by {@code id::author}, {@code file::id::author} or, of a whole changelog, its
 *     path
 */
public record ChangelogInput(
    Dialect dialect,
    Path baseDirectory,
    List<Path> roots,
    List<RootChangelog> changelogs,
    Map<String, String> parameters,
    Map<String, Boolean> preconditionResults) {
  /** Input in which no precondition is decided by hand. */
  public ChangelogInput(
      Dialect dialect,
      Path baseDirectory,
      List<Path> roots,
      List<RootChangelog> changelogs,
      Map<String, String> parameters) {
    this(dialect, baseDirectory, roots, changelogs, parameters, Map.of());
  }

  /** Copies the collections. */
  public ChangelogInput {
    preconditionResults = Map.copyOf(preconditionResults);
    roots = List.copyOf(roots);
    changelogs = List.copyOf(changelogs);
    parameters = Map.copyOf(parameters);
  }

  /**
   * One root changelog.
   *
   * @param file its path below one of the roots
   * @param contexts the contexts it is run with, separated by commas; empty runs every change set
   * @param labels the label expression it is run with
   */
  public record RootChangelog(String file, Optional<String> contexts, Optional<String> labels) {
    /** A changelog run without contexts and labels. */
    public static RootChangelog of(String file) {
      return new RootChangelog(file, Optional.empty(), Optional.empty());
    }
  }
}
