package dev.colonnade.sql;

import java.util.Locale;
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

  private static final Pattern LOCK_IN_SHARE_MODE =
      Pattern.compile("lock\\s+in\\s+share\\s+mode\\b", Pattern.CASE_INSENSITIVE);
  private static final Pattern INDEX_HINT =
      Pattern.compile(
          "(use|force|ignore)\\s+(index|key)\\s*(for\\s+(join|order\\s+by|group\\s+by)\\s*)?\\([^()]*\\)"
              + "(\\s*,(?=\\s*(use|force|ignore)\\s+(index|key)\\b))?",
          Pattern.CASE_INSENSITIVE);
  private static final Pattern INDEXED_BY =
      Pattern.compile(
          "(indexed\\s+by\\s+(\"[^\"]*\"|\\w+)|not\\s+indexed\\b)", Pattern.CASE_INSENSITIVE);
  private static final Pattern TABLE_HINT =
      Pattern.compile(
          "with\\s*\\(\\s*(nolock|updlock|rowlock|readpast|holdlock|xlock|tablock|tablockx|paglock"
              + "|nowait|serializable|readuncommitted|readcommitted|repeatableread|forceseek"
              + "|forcescan|index)\\b[^()]*(\\([^()]*\\)[^()]*)*\\)",
          Pattern.CASE_INSENSITIVE);

  /** Oracle's flashback query, and the temporal query of SQL:2011. */
  private static final Pattern AS_OF =
      Pattern.compile(
          "(for\\s+system_time\\s+)?as\\s+of\\s+(timestamp|scn|system_time|period\\s+for\\s+\\w+)?\\s*"
              + "((timestamp\\s+)?'[^']*'|[:@?#$]\\{?[\\w.]*\\}?|\\d+|\\w+\\s*\\([^()]*(\\([^()]*\\)[^()]*)*\\))",
          Pattern.CASE_INSENSITIVE);

  private static final Pattern IS_VALUE =
      Pattern.compile(
          "is\\s+(not\\s+)?(?!(not|null|true|false|unknown|distinct|json|of)\\b)(?=[\\w'\":?@$(+-])",
          Pattern.CASE_INSENSITIVE);

  /** Words that JSqlParser keeps for itself and the supported databases allow as names. */
  private static final Set<String> NAMES =
      Set.of(
          "errors", "final", "import", "returns", "sample", "prior", "force", "use", "semi", "uuid",
          "number", "map");

  /** Those among them that are types as well. */
  private static final Set<String> TYPES = Set.of("uuid", "number", "map");

  /** What follows a name that is a column. */
  private static final Pattern AFTER_COLUMN =
      Pattern.compile(
          "\\s*([,)=<>!.;+*/|-]|$|(from|and|or|is|in|not|like|between|asc|desc|as|order|group|limit"
              + "|where|then|end)\\b)",
          Pattern.CASE_INSENSITIVE);

  private static final Pattern QUERY_WORD =
      Pattern.compile("(select|with|update|delete|insert|merge)\\b", Pattern.CASE_INSENSITIVE);

  private final String sql;
  private final String database;
  private final boolean isQuery;
  private final Placeholders result;
  private int at;

  private Rewriter(String sql, String database) {
    this.sql = sql;
    this.database = database;
    this.isQuery = isQuery(sql);
    this.result = new Placeholders(sql);
  }

  /** True for what is no definition: there, names in front of commas may be types. */
  private static boolean isQuery(String sql) {
    int start = 0;
    while (start < sql.length()) {
      if (sql.startsWith("--", start)) {
        int end = sql.indexOf('\n', start);
        start = end < 0 ? sql.length() : end + 1;
      } else if (sql.startsWith("/*", start)) {
        int end = sql.indexOf("*/", start);
        start = end < 0 ? sql.length() : end + 2;
      } else if (Character.isWhitespace(sql.charAt(start)) || sql.charAt(start) == '(') {
        start++;
      } else {
        break;
      }
    }
    return QUERY_WORD.matcher(sql).region(start, sql.length()).lookingAt();
  }

  static Placeholders rewrite(String sql, String database) {
    Rewriter rewriter = new Rewriter(sql, database);
    rewriter.run();
    return rewriter.result;
  }

  private void run() {
    while (at < sql.length()) {
      if (!quoted() && !comment() && !blankLines() && !placeholder() && !word()) {
        copyTo(at + 1);
      }
    }
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
    String before = sql.substring(0, at).stripTrailing().toLowerCase(Locale.ROOT);
    boolean placed = before.endsWith("(") || before.endsWith(" in");
    return placed && end < sql.length() && sql.charAt(end) == '>' ? end + 1 : at;
  }

  private boolean word() {
    if (!isNameStart(peek(0)) || isNamePart(previous())) {
      return false;
    }
    String word = sql.substring(at, endOfName(at, false)).toLowerCase(Locale.ROOT);
    boolean rewritten =
        switch (word) {
          case "lock" -> MYSQL.contains(database) && replace(LOCK_IN_SHARE_MODE, "for share");
          case "use", "force", "ignore" ->
              (MYSQL.contains(database) && replace(INDEX_HINT, " ")) || name(word);
          case "indexed", "not" -> database.equals("sqlite") && replace(INDEXED_BY, " ");
          case "with" -> database.equals("mssql") && replace(TABLE_HINT, " ");
          case "as", "for" -> replace(AS_OF, " ");
          case "glob" ->
              database.equals("sqlite") && replaceWith(LikeReader.GLOB.name(), at + word.length());
          case "is" -> database.equals("sqlite") && isValue();
          default -> name(word);
        };
    if (!rewritten) {
      copyTo(at + word.length());
    }
    return true;
  }

  private boolean replace(Pattern pattern, String replacement) {
    Matcher matcher = pattern.matcher(sql).region(at, sql.length());
    return matcher.lookingAt() && replaceWith(replacement, matcher.end());
  }

  private boolean replaceWith(String replacement, int end) {
    result.replace(replacement, at);
    at = end;
    return true;
  }

  /** A column named by a word that the parser keeps for itself gets quotes. */
  private boolean name(String word) {
    if (!isQuery || !NAMES.contains(word)) {
      return false;
    }
    int end = at + word.length();
    if (!AFTER_COLUMN.matcher(sql).region(end, sql.length()).lookingAt()) {
      return false;
    }
    String before = sql.substring(0, at).stripTrailing().toLowerCase(Locale.ROOT);
    boolean isType = TYPES.contains(word) && (before.endsWith("::") || before.endsWith(" as"));
    return !isType && replaceWith("\"" + sql.substring(at, end) + "\"", end);
  }

  /** SQLite's IS compares any two values. */
  private boolean isValue() {
    Matcher matcher = IS_VALUE.matcher(sql).region(at, sql.length());
    matcher.useTransparentBounds(true);
    return matcher.lookingAt()
        && replaceWith(
            matcher.group(1) == null ? "is not distinct from " : "is distinct from ",
            matcher.end());
  }
}
