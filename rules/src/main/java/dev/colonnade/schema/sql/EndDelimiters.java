package dev.colonnade.schema.sql;

import dev.colonnade.dialect.StatementRules;
import java.util.List;

/**
 * Tells where the text of an end delimiter ends a statement. Liquibase 4.33.0 looks for whole
 * words: inside quotes, comments and longer words it is text like any other, and a slash counts at
 * the start of a line only ({@code StringUtil.processMultiLineSQL} and {@code isDelimiter}).
 */
final class EndDelimiters {
  private final String sql;
  private final int start;
  private final List<SqlToken> tokens;

  EndDelimiters(String sql, int start, int end, StatementRules rules) {
    this.sql = sql;
    this.start = start;
    this.tokens = SqlTokenizer.tokens(sql.substring(start, end), rules);
  }

  boolean isPlace(int from, int to) {
    int at = from;
    while (at < to && Character.isWhitespace(sql.charAt(at))) {
      at++;
    }
    if (at == to) {
      return true;
    }
    boolean slash = sql.substring(at, to).strip().equals("/");
    if (slash && (sql.startsWith("/*", at) || (at == from && !startsLine(at)))) {
      return false;
    }
    int before = lastAtOrBefore(at - start);
    SqlToken token = before < 0 ? null : tokens.get(before);
    if (token == null || token.end() <= at - start) {
      return !isComment(token == null ? start : start + token.end(), at);
    }
    boolean first = token.start() == at - start;
    if (token.kind() == SqlToken.Kind.STRING || token.kind() == SqlToken.Kind.QUOTED) {
      return first;
    }
    return !Character.isLetterOrDigit(sql.charAt(at)) || (first && start + token.end() <= to);
  }

  private boolean startsLine(int at) {
    return sql.substring(sql.lastIndexOf('\n', at - 1) + 1, at).isBlank();
  }

  /** True where the text between two words has a comment that goes on at the place. */
  private boolean isComment(int from, int at) {
    String gap = sql.substring(from, at);
    int line = gap.lastIndexOf('\n');
    return gap.indexOf("--", line + 1) >= 0
        || gap.indexOf('#', line + 1) >= 0
        || gap.lastIndexOf("/*") > gap.lastIndexOf("*/");
  }

  private int lastAtOrBefore(int offset) {
    int low = 0;
    int high = tokens.size() - 1;
    while (low <= high) {
      int middle = (low + high) >>> 1;
      if (tokens.get(middle).start() <= offset) {
        low = middle + 1;
      } else {
        high = middle - 1;
      }
    }
    return high;
  }
}
