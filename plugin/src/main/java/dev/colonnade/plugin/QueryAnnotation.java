package dev.colonnade.plugin;

/** An annotation of the service's own, or of a library, one attribute of which holds native SQL. */
public final class QueryAnnotation {
  private String className;
  private String attribute = "value";

  /** For the configurator, which fills the fields. */
  public QueryAnnotation() {}

  /**
   * Called by the configurator where one word stands for the whole element: {@code class} or {@code
   * class#attribute}, as in {@code -Dcolonnade.queryAnnotations=harbour.NativeSql#text}.
   */
  public void set(String text) {
    int hash = text.indexOf('#');
    className = (hash < 0 ? text : text.substring(0, hash)).trim();
    if (hash >= 0) {
      attribute = text.substring(hash + 1).trim();
    }
  }

  /** The annotation's fully qualified class name, or {@code null} where the element says none. */
  String className() {
    return className;
  }

  /** The attribute that holds the SQL text. */
  String attribute() {
    return attribute;
  }
}
