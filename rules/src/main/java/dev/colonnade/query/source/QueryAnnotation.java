package dev.colonnade.query.source;

/**
 * An annotation whose attribute holds SQL, named by the service's configuration.
 *
 * @param className binary name of the annotation: {@code org.example.Sql}
 * @param attribute the attribute with the SQL, a string or an array of strings
 * @param separateStatements true when each element of an array is a statement of its own; false
 *     when the elements are the lines of one statement and are joined by spaces
 */
public record QueryAnnotation(String className, String attribute, boolean separateStatements) {
  /** An annotation whose attribute holds one statement. */
  public static QueryAnnotation of(String className, String attribute) {
    return new QueryAnnotation(className, attribute, false);
  }
}
