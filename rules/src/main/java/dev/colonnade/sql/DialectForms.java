package dev.colonnade.sql;

import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Forms of the supported databases that JSqlParser's grammar lacks, and what to put in their place.
 * Hints and the like are left out: they change no result.
 */
final class DialectForms {
  /** What to put in place of the text up to an offset. */
  record Form(String replacement, int end) {}

  /** What to put in place of two parts of the text, of which the second starts at an offset. */
  record Split(Form first, int at, Form second) {}

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

  /**
   * MySQL's operator that makes a comparison one of bytes, as the collation {@code binary} does
   * (MySQL 8.0 manual, "Cast Functions and Operators"), and the operand behind it.
   */
  private static final Pattern BINARY =
      Pattern.compile(
          "binary\\s+('([^']|'')*'|[#$]\\{[^}]*\\}|\\?|:\\w+|[\\w`.]+)(?![\\w.`]|\\s*\\()",
          Pattern.CASE_INSENSITIVE);

  /** The types of MySQL's CONVERT (MySQL 8.0 manual, "Cast Functions and Operators"). */
  private static final Pattern CONVERTED_TO =
      Pattern.compile(
          "\\s*((signed|unsigned)(\\s+integer|\\s+int)?|n?char|binary|date|datetime|time|dec|decimal"
              + "|double|float|json|real|year)\\s*(\\([\\d\\s,]*\\))?\\s*",
          Pattern.CASE_INSENSITIVE);

  private static final Pattern QUERY_WORD =
      Pattern.compile("(select|with|update|delete|insert|merge)\\b", Pattern.CASE_INSENSITIVE);

  private static final Pattern PARTITION =
      Pattern.compile("partition\\s*\\([\\w\\s,]*\\)", Pattern.CASE_INSENSITIVE);
  private static final Pattern OPTIMIZE_FOR =
      Pattern.compile("optimize\\s+for\\s+\\d+\\s+rows?\\b", Pattern.CASE_INSENSITIVE);
  private static final Pattern INSERT_OR =
      Pattern.compile(
          "insert\\s+or\\s+(replace|ignore|abort|fail|rollback)\\b", Pattern.CASE_INSENSITIVE);
  private static final Pattern BARE_MERGE =
      Pattern.compile("merge\\s+(?!into\\b)(?=[\\w\\[\"])", Pattern.CASE_INSENSITIVE);
  private static final Pattern MOD = Pattern.compile("mod\\b(?!\\s*\\()", Pattern.CASE_INSENSITIVE);
  private static final Pattern DURATION =
      Pattern.compile(
          "(year|month|day|hour|minute|second|microsecond)s?\\b(?!\\s*\\()",
          Pattern.CASE_INSENSITIVE);

  /** What a labeled duration labels. */
  private static final Pattern LABELED = Pattern.compile(".*(\\d|\\?|:\\w+|\\))", Pattern.DOTALL);

  private final String sql;
  private final String database;
  private final boolean isQuery;

  DialectForms(String sql, String database) {
    this.sql = sql;
    this.database = database;
    this.isQuery = isQuery(sql);
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

  /** The form that starts with the word between two offsets. */
  Optional<Form> find(int start, int end) {
    String word = sql.substring(start, end).toLowerCase(Locale.ROOT);
    return switch (word) {
      case "lock" -> mysql(LOCK_IN_SHARE_MODE, start, "for share");
      case "use", "force", "ignore" ->
          mysql(INDEX_HINT, start, " ").or(() -> name(word, start, end));
      case "mod" -> mysql(MOD, start, "%");
      case "indexed", "not" -> on("sqlite", INDEXED_BY, start, " ");
      case "insert" -> on("sqlite", INSERT_OR, start, "insert");
      case "glob" ->
          database.equals("sqlite")
              ? Optional.of(new Form(LikeReader.GLOB.name(), end))
              : Optional.empty();
      case "is" -> database.equals("sqlite") ? isValue(start) : Optional.empty();
      case "with" -> on("mssql", TABLE_HINT, start, " ");
      case "merge" -> on("mssql", BARE_MERGE, start, "merge into ");
      case "as", "for" -> match(AS_OF, start, " ");
      case "partition" -> isQuery ? match(PARTITION, start, " ") : Optional.empty();
      case "optimize" -> on("db2", OPTIMIZE_FOR, start, " ");
      case "year",
          "years",
          "month",
          "months",
          "day",
          "days",
          "hour",
          "hours",
          "minute",
          "minutes",
          "second",
          "seconds",
          "microsecond",
          "microseconds" ->
          database.equals("db2") ? duration(start) : Optional.empty();
      default -> name(word, start, end);
    };
  }

  /** The form of two parts that starts with the word between two offsets. */
  Optional<Split> findSplit(int start, int end) {
    if (!isQuery || !MYSQL.contains(database)) {
      return Optional.empty();
    }
    return switch (sql.substring(start, end).toLowerCase(Locale.ROOT)) {
      case "binary" -> binary(start, end);
      case "convert" -> convert(end);
      default -> Optional.empty();
    };
  }

  /** MySQL's BINARY in front of an operand is a collation behind it. */
  private Optional<Split> binary(int start, int end) {
    Matcher matcher = BINARY.matcher(sql).region(start, sql.length());
    return KeptWords.isBeforeOperand(before(start).toLowerCase(Locale.ROOT)) && matcher.lookingAt()
        ? Optional.of(
            new Split(
                new Form(" ", end), matcher.end(1), new Form(" collate `binary`", matcher.end(1))))
        : Optional.empty();
  }

  /** MySQL's {@code convert(x, signed)} is a cast. */
  private Optional<Split> convert(int end) {
    int comma = -1;
    int depth = 0;
    for (int i = end; i < sql.length(); i++) {
      char c = sql.charAt(i);
      if (c == '\'' || c == '"' || c == '`') {
        int close = sql.indexOf(c, i + 1);
        i = close < 0 ? sql.length() : close;
      } else if (c == '(' || c == '{') {
        depth++;
      } else if (c == ',' && depth == 1) {
        comma = i;
      } else if ((c == ')' || c == '}') && --depth == 0) {
        boolean typed = comma > 0 && CONVERTED_TO.matcher(sql).region(comma + 1, i).matches();
        return typed
            ? Optional.of(new Split(new Form("cast", end), comma, new Form(" as ", comma + 1)))
            : Optional.empty();
      } else if (depth == 0 && !Character.isWhitespace(c)) {
        return Optional.empty();
      }
    }
    return Optional.empty();
  }

  private Optional<Form> match(Pattern pattern, int start, String replacement) {
    Matcher matcher = pattern.matcher(sql).region(start, sql.length());
    return matcher.lookingAt()
        ? Optional.of(new Form(replacement, matcher.end()))
        : Optional.empty();
  }

  private Optional<Form> on(String only, Pattern pattern, int start, String replacement) {
    return database.equals(only) ? match(pattern, start, replacement) : Optional.empty();
  }

  private Optional<Form> mysql(Pattern pattern, int start, String replacement) {
    return MYSQL.contains(database) ? match(pattern, start, replacement) : Optional.empty();
  }

  /** A name that is a word which the parser keeps for itself gets quotes. */
  private Optional<Form> name(String word, int start, int end) {
    return isQuery && KeptWords.isName(word, before(start).toLowerCase(Locale.ROOT), sql, end)
        ? Optional.of(new Form("\"" + sql.substring(start, end) + "\"", end))
        : Optional.empty();
  }

  /** The text in front, without blanks at its end; only its end is of interest. */
  private String before(int start) {
    return sql.substring(Math.max(0, start - 200), start).stripTrailing();
  }

  /** Db2's labeled durations, {@code 7 days}: the number alone stays. */
  private Optional<Form> duration(int start) {
    boolean labels =
        Character.isWhitespace(sql.charAt(Math.max(0, start - 1)))
            && LABELED.matcher(before(start)).matches();
    return labels ? match(DURATION, start, "") : Optional.empty();
  }

  /** SQLite's IS compares any two values. */
  private Optional<Form> isValue(int start) {
    Matcher matcher = IS_VALUE.matcher(sql).region(start, sql.length());
    matcher.useTransparentBounds(true);
    return matcher.lookingAt()
        ? Optional.of(
            new Form(
                matcher.group(1) == null ? "is not distinct from " : "is distinct from ",
                matcher.end()))
        : Optional.empty();
  }
}
