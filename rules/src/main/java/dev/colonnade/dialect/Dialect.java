package dev.colonnade.dialect;

/**
 * A database, as a value.
 *
 * @param shortName Liquibase's short name: {@code postgresql}
 * @param displayName the name for people
 * @param storage how rows and index entries are laid out
 * @param features which kinds of index there are and which the database makes by itself
 * @param matching which predicates bound a scan
 * @param ordering which orders a scan delivers
 */
public record Dialect(
    String shortName,
    String displayName,
    Storage storage,
    IndexFeatures features,
    Matching matching,
    Ordering ordering) {

  @Override
  public String toString() {
    return shortName;
  }
}
