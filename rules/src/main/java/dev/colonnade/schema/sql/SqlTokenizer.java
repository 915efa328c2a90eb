package dev.colonnade.schema.sql;

import dev.colonnade.dialect.StatementRules;
import dev.colonnade.schema.sql.SqlToken.Kind;
import java.util.ArrayList;
import java.util.List;

/**
 * Cuts SQL text into words and signs, without comments. Text that no database would take is cut
 * somehow and never fails.
 */
final class SqlTokenizer {
  private final String sql;
  private final boolean backslashes;
  private final boolean hashComments;
  private final List<SqlToken> tokens = new ArrayList<>();
  private int at;

  private SqlTokenizer(String sql, StatementRules rules) {
    this.sql = sql;
    this.backslashes = rules.backslashEscapes().value();
    this.hashComments = rules.hashComments().value();
  }

  static List<SqlToken> tokens(String sql, StatementRules rules) {
    SqlTokenizer tokenizer = new SqlTokenizer(sql, rules);
    tokenizer.run();
    return tokenizer.tokens;
  }

  private void run() {
    while (at < sql.length()) {
      char c = sql.charAt(at);
      if (Character.isWhitespace(c) || c == '\uFEFF') {
        at++;
      } else if (looksAt("--") || isHashComment(c)) {
        at = endOfLine();
      } else if (looksAt("/*!")) {
        at += 3;
        skipDigits();
      } else if (looksAt("/*")) {
        int end = sql.indexOf("*/", at + 2);
        at = end < 0 ? sql.length() : end + 2;
      } else if (looksAt("*/")) {
        at += 2;
      } else if (c == '\'') {
        string();
      } else if (c == '"') {
        quoted(Kind.QUOTED, '"', '"');
      } else if (c == '`') {
        quoted(Kind.QUOTED, '`', '`');
      } else if (c == '[' && opensName()) {
        quoted(Kind.QUOTED, '[', ']');
      } else if (c == '$' && dollarQuoteEnd() > 0) {
        int end = dollarQuoteEnd();
        add(Kind.STRING, at, end, sql.substring(at, end));
        at = end;
      } else if (Character.isDigit(c)) {
        number();
      } else if (isWordStart(c) || isTemporaryName(c)) {
        word();
      } else {
        add(Kind.SIGN, at, at + 1, String.valueOf(c));
        at++;
      }
    }
  }

  private boolean looksAt(String text) {
    return sql.startsWith(text, at);
  }

  /** A hash that starts a comment, and not the placeholder of a template. */
  private boolean isHashComment(char c) {
    return c == '#' && hashComments && !looksAt("#{");
  }

  private int endOfLine() {
    int end = at;
    while (end < sql.length() && sql.charAt(end) != '\n' && sql.charAt(end) != '\r') {
      end++;
    }
    return end;
  }

  private void skipDigits() {
    while (at < sql.length() && Character.isDigit(sql.charAt(at))) {
      at++;
    }
  }

  /** The name of a temporary table of SQL Server, which starts with a hash. */
  private boolean isTemporaryName(char c) {
    return c == '#'
        && at + 1 < sql.length()
        && (isWordStart(sql.charAt(at + 1)) || looksAt("##"))
        && (at == 0 || !isWordPart(sql.charAt(at - 1)));
  }

  /**
   * A string. Behind an E, a backslash quotes the next character
   * (https://www.postgresql.org/docs/18/sql-syntax-lexical.html); behind a Q, the next sign says
   * where the string ends (Oracle's SQL Language Reference, Text Literals).
   */
  private void string() {
    String prefix = prefix();
    if (prefix.equalsIgnoreCase("q") || prefix.equalsIgnoreCase("nq")) {
      alternativelyQuoted();
    } else if (backslashes || prefix.equalsIgnoreCase("e")) {
      escaped();
    } else {
      quoted(Kind.STRING, '\'', '\'');
    }
  }

  /** The word that touches the next character from the left. */
  private String prefix() {
    if (tokens.isEmpty()) {
      return "";
    }
    SqlToken last = tokens.get(tokens.size() - 1);
    return last.kind() == Kind.WORD && last.end() == at ? last.text() : "";
  }

  private void escaped() {
    int start = at;
    at++;
    while (at < sql.length()) {
      char c = sql.charAt(at);
      boolean pair = c == '\\' || looksAt("''");
      if (!pair && c == '\'') {
        break;
      }
      at += pair ? 2 : 1;
    }
    at = Math.min(at + 1, sql.length());
    add(Kind.STRING, start, at, sql.substring(start, at));
  }

  private void alternativelyQuoted() {
    int start = at;
    if (at + 1 < sql.length()) {
      char open = sql.charAt(at + 1);
      int pair = "[{(<".indexOf(open);
      char close = pair < 0 ? open : "]})>".charAt(pair);
      int end = sql.indexOf(close + "'", at + 2);
      at = end < 0 ? sql.length() : end + 2;
    } else {
      at = sql.length();
    }
    add(Kind.STRING, start, at, sql.substring(start, at));
  }

  private void quoted(Kind kind, char open, char close) {
    int start = at;
    StringBuilder text = new StringBuilder();
    at++;
    while (at < sql.length()) {
      char c = sql.charAt(at);
      if (c == close && at + 1 < sql.length() && sql.charAt(at + 1) == close && open == close) {
        text.append(c);
        at += 2;
      } else if (c == close) {
        break;
      } else {
        text.append(c);
        at++;
      }
    }
    at = Math.min(at + 1, sql.length());
    add(kind, start, at, kind == Kind.STRING ? sql.substring(start, at) : text.toString());
  }

  /** A bracket opens a name unless it stands behind something that can have a subscript. */
  private boolean opensName() {
    boolean subscript =
        at > 0 && (isWordPart(sql.charAt(at - 1)) || "])\"".indexOf(sql.charAt(at - 1)) >= 0);
    return !subscript
        && at + 1 < sql.length()
        && isWordStart(sql.charAt(at + 1))
        && sql.indexOf(']', at) > 0;
  }

  /** The end of a dollar-quoted string that starts here, or 0. */
  private int dollarQuoteEnd() {
    int tagEnd = at + 1;
    while (tagEnd < sql.length()
        && (Character.isLetterOrDigit(sql.charAt(tagEnd)) || sql.charAt(tagEnd) == '_')) {
      tagEnd++;
    }
    if (tagEnd >= sql.length()
        || sql.charAt(tagEnd) != '$'
        || Character.isDigit(sql.charAt(at + 1))) {
      return 0;
    }
    String tag = sql.substring(at, tagEnd + 1);
    int end = sql.indexOf(tag, tagEnd + 1);
    return end < 0 ? 0 : end + tag.length();
  }

  private void number() {
    int start = at;
    while (at < sql.length() && (isWordPart(sql.charAt(at)) || sql.charAt(at) == '.')) {
      at++;
    }
    String text = sql.substring(start, at);
    boolean name = text.chars().anyMatch(Character::isLetter) && !text.matches("[0-9.]+[eE].*");
    add(name ? Kind.WORD : Kind.NUMBER, start, at, text);
  }

  private void word() {
    int start = at;
    while (at < sql.length() && isWordPart(sql.charAt(at))) {
      at++;
    }
    add(Kind.WORD, start, at, sql.substring(start, at));
  }

  private static boolean isWordStart(char c) {
    return Character.isLetter(c) || c == '_' || c == '@';
  }

  private static boolean isWordPart(char c) {
    return Character.isLetterOrDigit(c) || c == '_' || c == '$' || c == '#' || c == '@';
  }

  private void add(Kind kind, int start, int end, String text) {
    tokens.add(new SqlToken(kind, text, start, end));
  }
}
