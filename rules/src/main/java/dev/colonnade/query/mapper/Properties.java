package dev.colonnade.query.mapper;

import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Puts properties in place of {@code ${name}}; a name that is none stays as it is. */
final class Properties {
  static final Pattern REFERENCE = Pattern.compile("\\$\\{([^}]*)}");

  private Properties() {}

  static String replace(String text, Map<String, String> properties) {
    if (!text.contains("${")) {
      return text;
    }
    return REFERENCE
        .matcher(text)
        .replaceAll(
            match ->
                Matcher.quoteReplacement(
                    properties.getOrDefault(match.group(1).strip(), match.group())));
  }
}
