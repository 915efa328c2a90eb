package dev.colonnade.query;

/** Where a query was found. */
public enum QuerySource {
  /** In an annotation. */
  ANNOTATION("annotation"),
  /** Derived from the name of a repository method. */
  METHOD_NAME("method-name"),
  /** A method that a repository inherits; whether anybody calls it is not known. */
  INHERITED_METHOD("method-name"),
  /** In the body of a method, as a constant text that is given to a query API. */
  METHOD_BODY("method-body"),
  /** In a mapper file. */
  MAPPER("mapper"),
  /** In an SQL file. */
  FILE("file"),
  /** Nobody wrote it: it follows from the object-relational mapping. */
  MAPPING("mapping");

  private final String word;

  QuerySource(String word) {
    this.word = word;
  }

  /** Whether somebody of the service wrote it down, be it as the name of a method. */
  public boolean isWritten() {
    return switch (this) {
      case ANNOTATION, METHOD_NAME, METHOD_BODY, MAPPER, FILE -> true;
      case INHERITED_METHOD, MAPPING -> false;
    };
  }

  /** The word used in files. */
  public String word() {
    return word;
  }
}
