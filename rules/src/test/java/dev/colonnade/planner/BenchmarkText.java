package dev.colonnade.planner;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Texts of published queries as a database writes them: quotes, days, intervals, numbers of rows,
 * totals of groups. What else a database lacks stays, and the database refuses the query.
 */
final class BenchmarkText {
  private static final Pattern LITERAL = Pattern.compile("'(?:[^']|'')*'");
  private static final Pattern NAME = Pattern.compile("\"([A-Za-z_][A-Za-z0-9_]*)\"");

  /** Quoted names of columns of results that stay so, for they are words of SQL. */
  private static final Set<String> WORDS = Set.of("desc", "month", "week");

  private static final Pattern DAY = Pattern.compile("(?i)\\bdate\\s+'(\\d{4}-\\d\\d-\\d\\d)'");
  private static final Pattern CAST_DAY =
      Pattern.compile("(?i)cast\\s*\\(\\s*'(\\d{4}-\\d\\d-\\d\\d)'\\s+as\\s+date\\s*\\)");
  private static final Pattern MOVED =
      Pattern.compile(
          "(?i)(?:date '(?<day>[\\d-]+)'|\\(date '(?<bracketed>[\\d-]+)'\\)"
              + "|(?<column>(?<![.\\w])[a-z]\\w*(?:\\.\\w+)?))\\s*(?<sign>[+-])\\s*"
              + "interval '(?<times>\\d+)' (?<unit>day|month|year)");
  private static final Pattern LIMIT = Pattern.compile("(?i)\\blimit\\s+(\\d+)");
  private static final Pattern ROLLUP = Pattern.compile("(?i)\\brollup\\s*\\(([^()]*)\\)");
  private static final Pattern GROUPING = Pattern.compile("(?i)\\bgrouping\\s*\\([^()]*\\)");

  /** Names of columns of results that some database takes for a word of SQL. */
  private static final Pattern CLASHING =
      Pattern.compile("(?i)(?<!^ )\\b(at|day|position|value|year)\\b(?!\\s*\\()");

  private static final Pattern YEAR = Pattern.compile("(?i)\\byear\\s*\\((\\w+)\\)");
  private static final Pattern TWO_JOINED =
      Pattern.compile("(?i)\\bconcat\\s*\\(\\s*('[^']*'|\\w+)\\s*,\\s*('[^']*'|\\w+)\\s*\\)");

  private BenchmarkText() {}

  /** The name of a table or column of a workload in the texts. */
  static String name(String name) {
    return CLASHING.matcher(name).replaceAll("$1_");
  }

  /** The text for a database. */
  static String of(String text, String database) {
    String plain = text.strip().replace('`', '"');
    plain = plain.replaceAll("(?m)^--.*$", "");
    plain =
        plain
            .replaceAll("(?i)interval (\\d+) days?", "interval '$1' day")
            .replaceAll("(?i)([+-] *)(\\d+) days", "$1interval '$2' day");
    plain = outsideLiterals(plain, BenchmarkText::unquoted);
    plain = CAST_DAY.matcher(plain).replaceAll("date '$1'");
    plain = outsideLiterals(plain, BenchmarkText::name);
    plain = plain.replaceAll("\\bc_last_review_date\\b", "c_last_review_date_sk");
    return switch (database) {
      case "sqlite" -> sqlite(plain);
      case "mariadb" -> mariadb(plain);
      case "postgresql" -> YEAR.matcher(plain).replaceAll("extract(year from $1)");
      case "derby" -> derby(plain);
      case "h2" -> withoutTotals(plain);
      default -> plain;
    };
  }

  private static String unquoted(String text) {
    return NAME.matcher(text)
        .replaceAll(
            name ->
                WORDS.contains(name.group(1).toLowerCase(Locale.ROOT))
                    ? "\"" + name.group(1) + "\""
                    : name.group(1));
  }

  /** Groups without the totals of groups, which some databases lack; what is read is the same. */
  private static String withoutTotals(String text) {
    return GROUPING.matcher(ROLLUP.matcher(text).replaceAll("$1")).replaceAll("0");
  }

  private static String sqlite(String text) {
    String moved = replaceMoved(text, BenchmarkText::movedInSqlite);
    String days = DAY.matcher(moved).replaceAll("'$1'");
    return withoutTotals(YEAR.matcher(days).replaceAll("strftime('%Y', $1)"))
        .replaceAll("(?i)\\bstddev_samp\\b", "avg");
  }

  private static String movedInSqlite(Matcher it) {
    return it.group("column") == null
        ? "'" + moved(it) + "'"
        : "date("
            + it.group("column")
            + ", '"
            + it.group("sign")
            + it.group("times")
            + " "
            + it.group("unit").toLowerCase(Locale.ROOT)
            + "')";
  }

  private static String mariadb(String text) {
    return outsideLiterals(withoutTotals(text), it -> it.replace('"', '`'))
        .replaceAll("(?i) nulls (?:first|last)", "");
  }

  private static String derby(String text) {
    String moved = replaceMoved(text, BenchmarkText::movedInDerby);
    String days = DAY.matcher(moved).replaceAll("date('$1')");
    String rows = LIMIT.matcher(days).replaceAll("fetch first $1 rows only");
    String parts = rows.replaceAll("(?i)\\bsubstring\\s*\\(", "substr(");
    return TWO_JOINED.matcher(parts).replaceAll("($1 || $2)");
  }

  private static String movedInDerby(Matcher it) {
    return it.group("column") == null
        ? "date '" + moved(it) + "'"
        : "{fn timestampadd(sql_tsi_"
            + it.group("unit")
            + ", "
            + (it.group("sign").equals("-") ? "-" : "")
            + it.group("times")
            + ", "
            + it.group("column")
            + ")}";
  }

  private static String replaceMoved(String text, Function<Matcher, String> replacement) {
    Matcher moved = MOVED.matcher(text);
    return moved.replaceAll(it -> Matcher.quoteReplacement(replacement.apply(moved)));
  }

  /** The day that a literal and an interval amount to. */
  private static String moved(Matcher it) {
    String text = it.group("day") == null ? it.group("bracketed") : it.group("day");
    LocalDate day = LocalDate.parse(text);
    long by = Long.parseLong(it.group("sign") + it.group("times"));
    return switch (it.group("unit").toLowerCase(Locale.ROOT)) {
      case "day" -> day.plusDays(by).toString();
      case "month" -> day.plusMonths(by).toString();
      default -> day.plusYears(by).toString();
    };
  }

  private static String outsideLiterals(String text, UnaryOperator<String> change) {
    List<String> parts = new ArrayList<>();
    Matcher literal = LITERAL.matcher(text);
    int from = 0;
    while (literal.find()) {
      parts.add(change.apply(text.substring(from, literal.start())));
      parts.add(literal.group());
      from = literal.end();
    }
    parts.add(change.apply(text.substring(from)));
    return String.join("", parts);
  }
}
