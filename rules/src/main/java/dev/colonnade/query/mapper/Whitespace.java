package dev.colonnade.query.mapper;

import java.util.stream.Collectors;

/** Brings order into the blanks that are left where parts of a text were. */
final class Whitespace {
  private Whitespace() {}

  /** The lines without indentation, and without those that are blank. */
  static String tidy(String sql) {
    return sql.lines()
        .map(String::strip)
        .filter(line -> !line.isEmpty())
        .collect(Collectors.joining("\n"));
  }

  /** The text with one blank for all that stand together: two texts of the same are the same. */
  static String collapse(String sql) {
    StringBuilder result = new StringBuilder(sql.length());
    boolean blank = false;
    for (int i = 0; i < sql.length(); i++) {
      char c = sql.charAt(i);
      if (!Character.isWhitespace(c)) {
        result.append(blank && !result.isEmpty() ? " " : "").append(c);
        blank = false;
      } else {
        blank = true;
      }
    }
    return result.toString();
  }
}
