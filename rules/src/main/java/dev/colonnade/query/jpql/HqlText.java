package dev.colonnade.query.jpql;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A query's text made ready for the grammar: Spring Data's expressions are replaced, {@code
 * #{#entityName}} by the name, parameters such as {@code :#{...}} by parameters with numbers.
 */
final class HqlText {
  private static final Pattern EXPRESSION =
      Pattern.compile(
          "(?i:\\bfetch\\s+all\\s+properties\\b)|#\\{\\s*#entityName\\s*}|[:?]#\\{([^{}]|\\{[^}]*})*}|[:?]\\$\\{[^}]*}");

  private static final Pattern CLOSING = Pattern.compile("[)\\s]*");

  private final String written;
  private final StringBuilder clean = new StringBuilder();

  /** Pairs of offsets from which on both texts run in parallel: in the clean one, in the other. */
  private final List<int[]> anchors = new ArrayList<>();

  HqlText(String written, Optional<String> entityName) {
    this.written = written;
    Matcher matcher = EXPRESSION.matcher(written);
    int start = 0;
    int parameters = 0;
    while (matcher.find()) {
      copy(start, matcher.start());
      String found = matcher.group();
      if (found.startsWith("f") || found.startsWith("F")) {
        clean.append(' '); // Words of Hibernate ORM before 6 that say nothing of rows.
      } else if (found.startsWith("#")) {
        clean.append(entityName.orElse(found));
      } else {
        clean.append(":expression").append(++parameters);
      }
      start = matcher.end();
    }
    copy(start, Math.max(start, end(written)));
  }

  /**
   * Where the statement ends: before parentheses that close none, if nothing else follows.
   * Hibernate ORM before 5 does not look at what stands there (its parser, tried with 4.2.21).
   */
  private static int end(String text) {
    int depth = 0;
    boolean quoted = false;
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      quoted ^= c == '\'';
      depth += quoted ? 0 : c == '(' ? 1 : c == ')' ? -1 : 0;
      if (depth < 0) {
        return CLOSING.matcher(text).region(i, text.length()).matches() ? i : text.length();
      }
    }
    return text.length();
  }

  private void copy(int start, int end) {
    anchors.add(new int[] {clean.length(), start});
    clean.append(written, start, end);
  }

  String clean() {
    return clean.toString();
  }

  /** Line and column in the written text, counted from 1, of a place in the clean one. */
  int[] place(int line, int column) {
    int offset = 0;
    for (int i = 1; i < line; i++) {
      offset = clean.indexOf("\n", offset) + 1;
    }
    offset += column - 1;
    int[] last = {0, 0};
    for (int[] anchor : anchors) {
      last = anchor[0] <= offset ? anchor : last;
    }
    int at = Math.min(last[1] + offset - last[0], written.length());
    String before = written.substring(0, at);
    int lineNumber = 1 + (int) before.chars().filter(c -> c == '\n').count();
    return new int[] {lineNumber, at - before.lastIndexOf('\n')};
  }
}
