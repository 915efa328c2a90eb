package dev.colonnade.mapping.source;

import java.util.Locale;
import java.util.regex.Pattern;

/**
 * Names of tables and columns as Spring Data's relational stores make them where nobody gives one:
 * the words of a name in lower case with underscores between them (Javadoc of {@code
 * org.springframework.data.relational.core.mapping.NamingStrategy}).
 */
final class RelationalNames {
  private static final String CAPITAL = "[\\p{Lu}\\P{InBASIC_LATIN}]";

  /**
   * Before a capital behind no capital, underscore or dollar, and before one that starts a word.
   */
  private static final Pattern BETWEEN_WORDS =
      Pattern.compile(
          "(?<!^|[\\p{Lu}\\P{InBASIC_LATIN}_$])(?=%s)|(?<!^)(?=%s\\p{Ll})"
              .formatted(CAPITAL, CAPITAL));

  private RelationalNames() {}

  static String of(String name) {
    return String.join("_", BETWEEN_WORDS.split(name)).toLowerCase(Locale.ROOT);
  }
}
