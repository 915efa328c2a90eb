package dev.colonnade.query.source;

import java.util.Optional;

/**
 * A query as an annotation holds it.
 *
 * @param name what tells it from the other queries of the annotated element: {@code count}, the
 *     name of a named query; empty for the query itself
 * @param attribute the attribute that holds it
 * @param text the text as written; empty where the annotation holds none
 * @param problem why the text is not SQL that can be analysed; empty where it is
 * @param template true when Spring Data evaluates template expressions in the text
 * @param jpql true when the text is a query over entities, which needs their mapping
 */
record AnnotatedText(
    String name,
    String attribute,
    String text,
    Optional<String> problem,
    boolean template,
    boolean jpql) {
  /** SQL. */
  static AnnotatedText sql(String name, String attribute, String text, boolean template) {
    return new AnnotatedText(name, attribute, text, Optional.empty(), template, false);
  }

  /** Something else. */
  static AnnotatedText problem(String name, String attribute, String text, String problem) {
    return new AnnotatedText(name, attribute, text, Optional.of(problem), false, false);
  }

  /** A query over entities; a problem where their mapping is not read. */
  static AnnotatedText jpql(String name, String attribute, String text) {
    return new AnnotatedText(name, attribute, text, Optional.of(AnnotationTexts.JPQL), false, true);
  }
}
