package dev.colonnade.measure;

import java.util.Optional;

/**
 * What the goal {@code measure} asks beside the analysis.
 *
 * @param url the JDBC address of a database given by the user; empty for one that runs inside the
 *     build
 * @param user its user, if any
 * @param password its password, if any
 * @param confirmed true when the user says that the database given is none that anybody needs
 * @param rowCap most rows put into a table
 */
public record MeasureOptions(
    Optional<String> url,
    Optional<String> user,
    Optional<String> password,
    boolean confirmed,
    int rowCap) {
  /** Does not show the password. */
  @Override
  public String toString() {
    return "measure at " + url.orElse("an embedded database") + ", at most " + rowCap + " rows";
  }
}
