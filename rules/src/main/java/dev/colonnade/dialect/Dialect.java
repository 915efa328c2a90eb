package dev.colonnade.dialect;

/**
 * A database, as a value.
 *
 * @param shortName Liquibase's short name: {@code postgresql}
 * @param displayName the name for people
 * @param version the version that the facts are of
 * @param storage how rows and index entries are laid out
 * @param features which kinds of index there are and which the database makes by itself
 * @param matching which predicates bound a scan
 * @param ordering which orders a scan delivers
 */
public record Dialect(
    String shortName,
    String displayName,
    DatabaseVersion version,
    Storage storage,
    IndexFeatures features,
    Matching matching,
    Ordering ordering) {

  /** The name for people, with the version where one was stated: {@code PostgreSQL 15}. */
  public String nameWithVersion() {
    return (displayName + " " + version).strip();
  }

  @Override
  public String toString() {
    return shortName;
  }
}
