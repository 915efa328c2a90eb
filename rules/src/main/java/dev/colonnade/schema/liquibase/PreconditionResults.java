package dev.colonnade.schema.liquibase;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import liquibase.changelog.ChangeSet;

/** What the configuration says of preconditions that cannot be decided without a database. */
final class PreconditionResults {
  /** The name of the parameter that holds them. */
  private static final String PARAMETER = "preconditionResults";

  private final Map<String, Boolean> results;
  private final Set<String> asked = new TreeSet<>();

  PreconditionResults(Map<String, Boolean> results) {
    this.results = new TreeMap<>(results);
  }

  /** How an entry calls a change set. */
  static String key(ChangeSet changeSet) {
    return changeSet.getId() + "::" + changeSet.getAuthor();
  }

  /** What is said of a change set; one named with its file before one named without. */
  Optional<Boolean> of(ChangeSet changeSet) {
    String key = key(changeSet);
    return said(RootsAccessor.normalize(changeSet.getFilePath()) + "::" + key).or(() -> said(key));
  }

  /** What is said of the preconditions of a whole changelog. */
  Optional<Boolean> of(String changelog) {
    return said(RootsAccessor.normalize(changelog));
  }

  private Optional<Boolean> said(String key) {
    asked.add(key);
    return Optional.ofNullable(results.get(key));
  }

  /** The end of an entry, which says how to decide. */
  static String advice(String key) {
    return "; to decide it, set " + PARAMETER + " for \"" + key + "\" to true or false";
  }

  /** One entry for each that was never asked for: there is no such change set, or no question. */
  List<NotUnderstood> unused() {
    List<NotUnderstood> unused = new ArrayList<>();
    for (String key : results.keySet()) {
      if (!asked.contains(key)) {
        unused.add(
            new NotUnderstood(
                SourceLocation.of("pom.xml"),
                PARAMETER + ": nothing in the changelogs waits for \"" + key + "\""));
      }
    }
    return unused;
  }
}
