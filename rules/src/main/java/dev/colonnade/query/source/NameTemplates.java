package dev.colonnade.query.source;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The places in a text that Spring Data fills with names before it is sent. */
final class NameTemplates {
  private static final Pattern ENTITY_NAME = Pattern.compile("#\\{\\s*#entityName\\s*}");
  private static final Pattern TABLE_NAME = Pattern.compile("#\\{\\s*#(qualifiedT|t)ableName\\s*}");
  private static final Pattern ANY = Pattern.compile("(?<![:?])#\\{[^}]*}");

  private NameTemplates() {}

  /** The text with what is known filled in. */
  static String filled(String text, Optional<String> entityName, Optional<String> tableName) {
    return fill(fill(text, ENTITY_NAME, entityName), TABLE_NAME, tableName);
  }

  private static String fill(String text, Pattern place, Optional<String> name) {
    return name.map(it -> place.matcher(text).replaceAll(Matcher.quoteReplacement(it)))
        .orElse(text);
  }

  /** The first place that is still to be filled. */
  static Optional<String> first(String text) {
    Matcher matcher = ANY.matcher(text);
    return matcher.find() ? Optional.of(matcher.group()) : Optional.empty();
  }
}
