package dev.colonnade.query.source;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Wildcards that Spring Data JPA takes out of a text and puts into the value instead: {@code like
 * %:name%} (Spring Data JPA reference, "Using Advanced LIKE Expressions"). They are written out, so
 * that a pattern which begins with one can be told from one that does not.
 */
final class Patterns {
  private static final Pattern LIKE =
      Pattern.compile("(?i)\\blike(\\s+)(%?)([:?](?:#\\{[^}]*}|\\w+))(%?)(?=\\s|\\)|,|;|$)");

  private Patterns() {}

  /** The text with each such pattern put together by a function. */
  static String written(String text) {
    return LIKE.matcher(text)
        .replaceAll(
            found -> {
              boolean before = !found.group(2).isEmpty();
              boolean after = !found.group(4).isEmpty();
              String value =
                  before || after
                      ? "concat("
                          + (before ? "'%', " : "")
                          + found.group(3)
                          + (after ? ", '%'" : "")
                          + ")"
                      : found.group(3);
              return Matcher.quoteReplacement("like" + found.group(1) + value);
            });
  }
}
