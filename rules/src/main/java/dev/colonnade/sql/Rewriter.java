package dev.colonnade.sql;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Rewrites SQL text so that JSqlParser can read it: placeholders of every kind, and the few forms
 * of the supported databases that its grammar lacks. String literals, quoted names, comments, casts
 * ({@code ::}) and JSON operators are left as they are.
 */
final class Rewriter {
  /** Databases whose strings know backslashes and whose comments may start with a hash sign. */
  private static final Set<String> MYSQL = Set.of("mysql", "mariadb");

  /** {@code {escape '!'}}: JDBC 4.3 specification, 13.4.1.4. */
  private static final Pattern JDBC_ESCAPE =
      Pattern.compile("\\{\\s*(escape\\s+'[^']*')\\s*\\}", Pattern.CASE_INSENSITIVE);

  private final String sql;
  private final String database;
  private final DialectForms forms;
  private final Placeholders result;
  private int at;

  /** What takes the place of the text from an offset further on. */
  private final Map<Integer, DialectForms.Form> later = new HashMap<>();

  private Rewriter(String sql, String database) {
    this.sql = sql;
    this.database = database;
    this.forms = new DialectForms(sql, database);
    this.result = new Placeholders(sql);
  }

  static Placeholders rewrite(String sql, String database) {
    Rewriter rewriter = new Rewriter(sql, database);
    rewriter.run();
    return rewriter.result;
  }

  private void run() {
    while (at < sql.length()) {
      if (finish()) {
        continue;
      }
      if (!quoted() && !comment() && !blankLines() && !operator() && !placeholder() && !word()) {
        copyTo(at + 1);
      }
    }
    finish();
  }

  /** The second part of a form that was begun. */
  private boolean finish() {
    DialectForms.Form form = later.remove(at);
    return form != null && replaceWith(form.replacement(), form.end());
  }

  private char peek(int ahead) {
    return at + ahead < sql.length() ? sql.charAt(at + ahead) : '\0';
  }

  private char previous() {
    return at > 0 ? sql.charAt(at - 1) : '\0';
  }

  private static boolean isNameStart(char c) {
    return Character.isLetter(c) || c == '_';
  }

  private static boolean isNamePart(char c) {
    return Character.isLetterOrDigit(c) || c == '_' || c == '$';
  }

  private void copyTo(int end) {
    int bounded = Math.min(end, sql.length());
    result.copy(at, bounded);
    at = bounded;
  }

  private void blankTo(int end) {
    result.replace(" ", at);
    at = end;
  }

  private boolean quoted() {
    char c = peek(0);
    if (c == '\'' || c == '"' || c == '`') {
      boolean backslash = c != '`' && (MYSQL.contains(database) || (c == '\'' && isEscapeString()));
      int end = endOfQuoted(c, backslash);
      if (c == '"' && MYSQL.contains(database) && end - at > 1 && sql.charAt(end - 1) == c) {
        // A string unless the server is told otherwise (sql_mode ANSI_QUOTES).
        String text = sql.substring(at + 1, end - 1).replace("\"\"", "\"").replace("'", "''");
        return replaceWith("'" + text + "'", end);
      }
      if (backslash && !MYSQL.contains(database)) {
        // Only the quote itself has two spellings; the parser knows the doubled one.
        result.replace(sql.substring(at, end).replace("\\'", "''"), at);
        at = end;
      } else {
        copyTo(end);
      }
      return true;
    }
    if (c == '[' && (database.equals("mssql") || database.equals("sqlite"))) {
      int end = sql.indexOf(']', at);
      copyTo(end < 0 ? sql.length() : end + 1);
      return true;
    }
    return c == '$' && dollarQuoted();
  }

  private boolean isEscapeString() {
    char before = previous();
    return (before == 'e' || before == 'E') && (at < 2 || !isNamePart(sql.charAt(at - 2)));
  }

  /** Doubled quotes belong to the text, as does what follows a backslash. */
  private int endOfQuoted(char quote, boolean backslash) {
    int i = at + 1;
    while (i < sql.length()) {
      char c = sql.charAt(i);
      if (backslash && c == '\\') {
        i += 2;
      } else if (c == quote) {
        if (i + 1 < sql.length() && sql.charAt(i + 1) == quote) {
          i += 2;
        } else {
          return i + 1;
        }
      } else {
        i++;
      }
    }
    return sql.length();
  }

  /** PostgreSQL's {@code $tag$ ... $tag$}. */
  private boolean dollarQuoted() {
    if (isNamePart(previous())) {
      return false;
    }
    int end = at + 1;
    while (end < sql.length()
        && (Character.isLetterOrDigit(sql.charAt(end)) || sql.charAt(end) == '_')) {
      end++;
    }
    if (end >= sql.length() || sql.charAt(end) != '$' || Character.isDigit(peek(1))) {
      return false;
    }
    String tag = sql.substring(at, end + 1);
    int close = sql.indexOf(tag, end + 1);
    if (close < 0) {
      return false;
    }
    copyTo(close + tag.length());
    return true;
  }

  private boolean comment() {
    if (peek(0) == '-' && peek(1) == '-') {
      copyTo(endOfLine());
      return true;
    }
    if (peek(0) == '/' && peek(1) == '*') {
      int end = sql.indexOf("*/", at + 2);
      copyTo(end < 0 ? sql.length() : end + 2);
      return true;
    }
    if (peek(0) == '#' && peek(1) != '{' && MYSQL.contains(database)) {
      blankTo(endOfLine());
      return true;
    }
    return false;
  }

  /** JSqlParser ends a statement at blank lines. */
  private boolean blankLines() {
    if (peek(0) != '\n') {
      return false;
    }
    int end = at;
    int lines = 0;
    while (end < sql.length() && Character.isWhitespace(sql.charAt(end))) {
      lines += sql.charAt(end) == '\n' ? 1 : 0;
      end++;
    }
    if (lines < 2) {
      return false;
    }
    result.replace("\n", at);
    at = end;
    return true;
  }

  /** Signs that one database alone reads so, and the escape clause of JDBC. */
  private boolean operator() {
    if (peek(0) == '{') {
      Matcher escape = JDBC_ESCAPE.matcher(sql).region(at, sql.length());
      return escape.lookingAt() && replaceWith(escape.group(1), escape.end());
    }
    if (MYSQL.contains(database) && peek(0) == '&' && peek(1) == '&') {
      return replaceWith(" and ", at + 2);
    }
    if (MYSQL.contains(database) && peek(0) == '|' && peek(1) == '|') {
      return replaceWith(" or ", at + 2);
    }
    if (database.equals("postgresql") && peek(0) == '#' && (peek(1) == '>' || peek(1) == '-')) {
      // To the parser the sign is part of a name in front of it.
      return replaceWith(" #", at + 1);
    }
    return database.equals("sqlite")
        && peek(0) == '='
        && peek(1) == '='
        && replaceWith("=", at + 2);
  }

  private int endOfLine() {
    int end = sql.indexOf('\n', at);
    return end < 0 ? sql.length() : end;
  }

  private boolean placeholder() {
    int end = endOfPlaceholder();
    if (end <= at) {
      return false;
    }
    result.placeholder(at, end);
    at = end;
    return true;
  }

  /** The end of the placeholder that starts here, or the place itself where none does. */
  private int endOfPlaceholder() {
    char next = peek(1);
    return switch (peek(0)) {
      case ':' -> {
        if (next == '=' && MYSQL.contains(database)) {
          // A user variable is assigned in a query; what is assigned reads as what is compared.
          replaceWith("=", at + 2);
          yield 0;
        }
        if (next == ':' || next == '=') {
          copyTo(at + 2);
          yield 0;
        }
        if (next == '#' && peek(2) == '{') {
          yield endOfBraces(at + 2);
        }
        boolean starts = !isNamePart(previous()) && previous() != ':';
        yield starts && isNamePart(next) ? endOfName(at + 1, true) : at;
      }
      case '?' -> endOfQuestionMark();
      case '#' -> next == '{' ? endOfBraces(at + 1) : at;
      case '$' -> {
        if (next == '{') {
          yield endOfBraces(at + 1);
        }
        boolean named = database.equals("sqlite") && isNameStart(next);
        yield (Character.isDigit(next) || named) && !isNamePart(previous())
            ? endOfName(at + 1, false)
            : at;
      }
      case '@' ->
          isNameStart(next) && !isNamePart(previous()) && previous() != '@'
              ? endOfName(at + 1, false)
              : at;
      case '<' -> endOfAngles();
      default -> at;
    };
  }

  private int endOfName(int start, boolean dots) {
    int end = start;
    while (end < sql.length()
        && (isNamePart(sql.charAt(end))
            || (dots
                && sql.charAt(end) == '.'
                && end + 1 < sql.length()
                && isNameStart(sql.charAt(end + 1))))) {
      end++;
    }
    return end;
  }

  private int endOfBraces(int open) {
    int depth = 0;
    for (int i = open; i < sql.length(); i++) {
      char c = sql.charAt(i);
      if (c == '{') {
        depth++;
      } else if (c == '}' && --depth == 0) {
        return i + 1;
      }
    }
    return at;
  }

  /**
   * A question mark is a placeholder, alone or with a number, unless it is one of PostgreSQL's JSON
   * operators: doubled (as drivers want it), before {@code |} or {@code &}, or before a string.
   */
  private int endOfQuestionMark() {
    if (peek(1) == '?') {
      result.replace(" ?", at);
      at += 2;
      return 0;
    }
    if (peek(1) == '#' && peek(2) == '{') {
      return endOfBraces(at + 2);
    }
    boolean combined = (peek(1) == '|' && peek(2) != '|') || peek(1) == '&';
    int following = at + 1;
    while (following < sql.length() && Character.isWhitespace(sql.charAt(following))) {
      following++;
    }
    boolean beforeString = following < sql.length() && sql.charAt(following) == '\'';
    if (combined || beforeString) {
      copyTo(at + 1);
      return 0;
    }
    int end = at + 1;
    while (end < sql.length() && Character.isDigit(sql.charAt(end))) {
      end++;
    }
    return end;
  }

  /** A list in angle brackets, directly behind IN or an opening parenthesis. */
  private int endOfAngles() {
    if (!isNameStart(peek(1))) {
      return at;
    }
    int end = endOfName(at + 1, false);
    String before =
        sql.substring(Math.max(0, at - 40), at).stripTrailing().toLowerCase(Locale.ROOT);
    boolean placed = before.endsWith("(") || before.endsWith(" in");
    return placed && end < sql.length() && sql.charAt(end) == '>' ? end + 1 : at;
  }

  /** A keyword or name: as it is, or the form that JSqlParser reads. */
  private boolean word() {
    if (!isNameStart(peek(0)) || isNamePart(previous())) {
      return false;
    }
    int end = endOfName(at, false);
    Optional<DialectForms.Split> split = forms.findSplit(at, end);
    if (split.isPresent()) {
      later.put(split.get().at(), split.get().second());
      return replaceWith(split.get().first().replacement(), split.get().first().end());
    }
    Optional<DialectForms.Form> form = forms.find(at, end);
    if (form.isPresent()) {
      return replaceWith(form.get().replacement(), form.get().end());
    }
    copyTo(end);
    return true;
  }

  private boolean replaceWith(String replacement, int end) {
    result.replace(replacement, at);
    at = end;
    return true;
  }
}
