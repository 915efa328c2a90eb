package dev.colonnade.sql;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The text that was given to JSqlParser in place of the author's, and the way back.
 *
 * <p>JSqlParser reads one form of placeholder everywhere: {@code :name}. Each placeholder of the
 * author's becomes one with a number.
 */
public final class Placeholders {
  /** Chosen so that nobody would write it. */
  private static final String PREFIX = ":p__";

  private static final Pattern STAND_IN = Pattern.compile(PREFIX + "(\\d+)");

  private final String original;
  private final StringBuilder rewritten = new StringBuilder();
  private final List<String> written = new ArrayList<>();

  /**
   * Pairs of offsets from which on both texts run in parallel: in the rewritten, in the original.
   */
  private final List<int[]> anchors = new ArrayList<>();

  Placeholders(String original) {
    this.original = original;
  }

  /** The text for the parser. */
  String text() {
    return rewritten.toString();
  }

  /** Takes over a stretch of the original. */
  void copy(int start, int end) {
    anchors.add(new int[] {rewritten.length(), start});
    rewritten.append(original, start, end);
  }

  /** Puts other text in place of a stretch of the original. */
  void replace(String replacement, int start) {
    anchors.add(new int[] {rewritten.length(), start});
    rewritten.append(replacement);
  }

  /** Puts a numbered placeholder in place of the author's. */
  void placeholder(int start, int end) {
    replace(PREFIX + written.size(), start);
    written.add(original.substring(start, end));
  }

  /** Text that came out of the parser with the author's placeholders in it again. */
  public String restore(String parsed) {
    Matcher matcher = STAND_IN.matcher(parsed);
    StringBuilder result = new StringBuilder();
    while (matcher.find()) {
      int number = Integer.parseInt(matcher.group(1));
      String text = number < written.size() ? written.get(number) : matcher.group();
      matcher.appendReplacement(result, Matcher.quoteReplacement(text));
    }
    return matcher.appendTail(result).toString();
  }

  /** What the author wrote for a stand-in given without its colon. */
  Optional<String> restoredName(String name) {
    String restored = restore(":" + name);
    return restored.equals(":" + name) ? Optional.empty() : Optional.of(restored);
  }

  /** The offset in the original of a place in the rewritten text. */
  int originalOffset(int line, int column) {
    int offset = offset(text(), line, column);
    int[] last = {0, 0};
    for (int[] anchor : anchors) {
      if (anchor[0] > offset) {
        break;
      }
      last = anchor;
    }
    int following = last[1] + offset - last[0];
    return Math.min(following, original.length());
  }

  /** Line and column in the original, counted from 1. */
  int[] originalPlace(int line, int column) {
    int offset = originalOffset(line, column);
    int lineNumber = 1;
    int lineStart = 0;
    for (int i = 0; i < offset; i++) {
      if (original.charAt(i) == '\n') {
        lineNumber++;
        lineStart = i + 1;
      }
    }
    return new int[] {lineNumber, offset - lineStart + 1};
  }

  private static int offset(String text, int line, int column) {
    int start = 0;
    for (int i = 1; i < line; i++) {
      int end = text.indexOf('\n', start);
      if (end < 0) {
        break;
      }
      start = end + 1;
    }
    return Math.min(start + Math.max(column, 1) - 1, text.length());
  }
}
