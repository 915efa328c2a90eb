package dev.colonnade.query.source;

import java.util.ArrayList;
import java.util.List;

/**
 * Splits a text into statements at semicolons that stand outside of quotes, comments and dollar
 * quotes.
 *
 * <p>Quotes end as the SQL standard says: a doubled quote stands for itself, a backslash is a
 * character like any other, except in PostgreSQL's {@code E'...'} (PostgreSQL manual, "String
 * Constants with C-Style Escapes"). Block comments do not nest. A quote or comment without an end
 * reaches to the end of the text.
 */
final class SqlSplitter {
  /**
   * A statement.
   *
   * @param line line of its first character, counted from 1, comments in front of it not counted in
   * @param column column of its first character, counted from 1
   * @param text without the semicolon
   */
  record Statement(int line, int column, String text) {}

  private final String text;
  private final List<Statement> statements = new ArrayList<>();
  private int position;
  private int start = -1;
  private int line = 1;
  private int counted;

  private SqlSplitter(String text) {
    this.text = text;
  }

  /** The statements in order; what is empty or consists of comments only is left out. */
  static List<Statement> split(String text) {
    SqlSplitter splitter = new SqlSplitter(text);
    splitter.run();
    return splitter.statements;
  }

  private void run() {
    while (position < text.length()) {
      char c = text.charAt(position);
      if (c == ';') {
        finish();
        position++;
      } else if (Character.isWhitespace(c)) {
        position++;
      } else if (text.startsWith("--", position)) {
        position = endOf("\n", position + 2);
      } else if (text.startsWith("/*", position)) {
        position = endOf("*/", position + 2);
      } else {
        if (start < 0) {
          start = position;
        }
        position = endOfToken(c);
      }
    }
    finish();
  }

  private int endOfToken(char c) {
    if (c == '\'' || c == '"' || c == '`') {
      return endOfQuote(c, c == '\'' && isEscapeString());
    }
    if (c == '$' && !followsWord()) {
      String tag = dollarTag();
      return tag.isEmpty() ? position + 1 : endOf(tag, position + tag.length());
    }
    return position + 1;
  }

  private int endOfQuote(char quote, boolean backslashEscapes) {
    int at = position + 1;
    while (at < text.length()) {
      char c = text.charAt(at);
      if (c == '\\' && backslashEscapes) {
        at += 2;
      } else if (c == quote) {
        return at + 1;
      } else {
        at++;
      }
    }
    return text.length();
  }

  private boolean isEscapeString() {
    if (position == 0 || Character.toUpperCase(text.charAt(position - 1)) != 'E') {
      return false;
    }
    return position == 1 || !isWordPart(text.charAt(position - 2));
  }

  private boolean followsWord() {
    return position > 0 && isWordPart(text.charAt(position - 1));
  }

  private static boolean isWordPart(char c) {
    return Character.isLetterOrDigit(c) || c == '_' || c == '$';
  }

  /** The opening of a dollar quote, {@code $tag$}; empty where the dollar is none. */
  private String dollarTag() {
    int at = position + 1;
    while (at < text.length() && text.charAt(at) != '$') {
      char c = text.charAt(at);
      boolean first = at == position + 1;
      if (!(Character.isLetter(c) || c == '_' || (!first && Character.isDigit(c)))) {
        return "";
      }
      at++;
    }
    return at < text.length() ? text.substring(position, at + 1) : "";
  }

  private int endOf(String end, int from) {
    int found = text.indexOf(end, from);
    return found < 0 ? text.length() : found + end.length();
  }

  private void finish() {
    if (start < 0) {
      return;
    }
    line += (int) text.substring(counted, start).chars().filter(c -> c == '\n').count();
    counted = start;
    int column = start - text.lastIndexOf('\n', start);
    statements.add(new Statement(line, column, text.substring(start, position).stripTrailing()));
    start = -1;
  }
}
