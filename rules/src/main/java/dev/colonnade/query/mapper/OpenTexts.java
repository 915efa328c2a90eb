package dev.colonnade.query.mapper;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Judges texts in which {@code ${...}} is left: text that the service puts there when it runs. As a
 * value it does no harm, and an order is one that is unknown; anywhere else it could be anything.
 */
public final class OpenTexts {
  /** A star after a word is one, unless it stands for all columns. */
  private static final String OPERATOR =
      "[=<>+/-]|(?<!\\b(?:select|distinct|all))(?<=[\\w)])\\s*\\*";

  private static final Pattern ORDER_BY =
      Pattern.compile("\\border\\s+by\\b", Pattern.CASE_INSENSITIVE);

  private static final Pattern AFTER_ORDER =
      Pattern.compile(
          "(limit|offset|fetch|for|union|intersect|except)\\b", Pattern.CASE_INSENSITIVE);

  /** A whole clause of order that the caller passes, known by its name. */
  private static final Pattern WHOLE_ORDER =
      Pattern.compile(
          "\\$\\{[^}]*order_?(by|clause)(_?clause)?\\s*\\}(?=\\s*($|\\)|(limit|offset|fetch|for)\\b))",
          Pattern.CASE_INSENSITIVE);

  private static final Pattern NEEDS_MORE =
      Pattern.compile(
          "([=<>+*/,(-]|\\b(by|from|join|update|into|select|where|and|or|on|set|not|like|in))\\s*$",
          Pattern.CASE_INSENSITIVE);

  private static final Pattern FROM = Pattern.compile("\\s*from\\b", Pattern.CASE_INSENSITIVE);

  private static final Pattern FROM_OR_ITEM =
      Pattern.compile("\\s*(,|from\\b)", Pattern.CASE_INSENSITIVE);

  private static final Pattern SELECT =
      Pattern.compile("\\bselect(\\s+distinct)?\\s*$", Pattern.CASE_INSENSITIVE);

  /** What stands behind a name or a value. */
  private static final Pattern GOES_ON =
      Pattern.compile(
          "\\s*([,.=<>!/+-]|(as|is|in|not|like|between|set)\\b)", Pattern.CASE_INSENSITIVE);

  private static final Pattern UNFINISHED =
      Pattern.compile(
          "\\b(where|and|or|in|set|having|on|values|when|then|else|not|by)\\s*(\\)|\\(\\s*\\)|$)"
              + "|\\bwhere\\s+(and|or|(order|group)\\s+by)\\b|\\border\\s+by\\s+(asc|desc)\\b"
              + "|\\binsert\\s+into\\s+\\S+\\s*$",
          Pattern.CASE_INSENSITIVE);

  /** What stands in front of a name, without which another meaning could come out. */
  private static final Pattern NEEDS_NAME =
      Pattern.compile(
          "("
              + OPERATOR
              + "|[,(]|\\b(by|from|join|update|into|table|as|on|set|not|like|in|using|where|having"
              + "|and|or))\\s*$",
          Pattern.CASE_INSENSITIVE);

  private static final Pattern VERB =
      Pattern.compile(
          "\\b(select|insert|update|delete|merge|replace|with|call|set|truncate|values|lock)\\b",
          Pattern.CASE_INSENSITIVE);

  /** The last item of a query that reads no table. */
  private static final Pattern LAST_OF_ROW =
      Pattern.compile("\\s+as\\s+\\w+\\s*(\\)|union\\b|$)", Pattern.CASE_INSENSITIVE);

  private static final Pattern ITEM =
      Pattern.compile("(,|\\bselect)\\s*$", Pattern.CASE_INSENSITIVE);

  /** {@code {? = call p(?)}}: JDBC 4.3 specification, 13.3. */
  private static final Pattern CALL =
      Pattern.compile(
          "\\s*\\{?\\s*(([#$]\\{[^}]*}|\\?|:\\w+)\\s*=\\s*)?(call|exec|execute)\\b",
          Pattern.CASE_INSENSITIVE);

  /** What stands in front of a value. */
  private static final Pattern BEFORE_VALUE =
      Pattern.compile(
          "("
              + OPERATOR
              + "|\\b(i?like|limit|offset|escape|between|top|interval|first|next|when|then|else"
              + "|in\\s*\\(([^()]*,)?|values\\s*\\(([^()]*,)?"
              + "|limit\\s+([#$]\\{[^}]*}|[^\\s,]+)\\s*,|between\\s+\\S+\\s+and))\\s*$",
          Pattern.CASE_INSENSITIVE);

  private static final int LONGEST_LOOK_BACK = 120;

  private OpenTexts() {}

  /** The text without the orders that nobody knows. */
  public static String withoutUnknownOrder(String sql) {
    if (!sql.contains("${")) {
      return sql;
    }
    StringBuilder result = new StringBuilder();
    Matcher order = ORDER_BY.matcher(sql);
    int done = 0;
    int from = 0;
    while (order.find(from)) {
      int end = endOfOrder(sql, order.end());
      if (sql.substring(order.end(), end).contains("${")) {
        result.append(sql, done, order.start());
        done = end;
      }
      from = Math.max(end, order.end());
    }
    return withoutWholeOrders(result.append(sql.substring(done)).toString()).strip();
  }

  private static String withoutWholeOrders(String sql) {
    if (!sql.contains("${")) {
      return sql;
    }
    Matcher order = WHOLE_ORDER.matcher(sql);
    StringBuilder result = new StringBuilder();
    while (order.find()) {
      int before = Math.max(0, order.start() - LONGEST_LOOK_BACK);
      boolean complete = !NEEDS_MORE.matcher(sql.substring(before, order.start())).find();
      order.appendReplacement(result, complete ? "" : Matcher.quoteReplacement(order.group()));
    }
    return order.appendTail(result).toString();
  }

  private static int endOfOrder(String sql, int start) {
    int depth = 0;
    int at = start;
    while (at < sql.length()) {
      char c = sql.charAt(at);
      if (c == '\'') {
        int close = sql.indexOf('\'', at + 1);
        at = close < 0 ? sql.length() : close + 1;
        continue;
      }
      depth += c == '(' ? 1 : c == ')' ? -1 : 0;
      if (depth < 0) {
        return at;
      }
      boolean word = depth == 0 && Character.isLetter(c) && !isName(sql.charAt(at - 1));
      if (word && AFTER_ORDER.matcher(sql).region(at, sql.length()).lookingAt()) {
        return at;
      }
      at++;
    }
    return at;
  }

  /** The first {@code ${...}} that could be anything; empty where all stand for values. */
  public static Optional<String> unknown(String sql) {
    Matcher open = Properties.REFERENCE.matcher(sql);
    SqlParts parts = new SqlParts(sql);
    while (open.find()) {
      if (!parts.isInert(open.start()) && !isValue(sql, open.start(), open.end())) {
        return Optional.of(open.group());
      }
    }
    return Optional.empty();
  }

  /** Whether a text calls a stored procedure, as JDBC writes it or as SQL does. */
  static boolean isCall(String sql) {
    return CALL.matcher(sql).lookingAt();
  }

  /** Whether a text says what it does, whatever is put into it when it runs. */
  static boolean isStatement(String sql) {
    return VERB.matcher(Properties.REFERENCE.matcher(sql).replaceAll(" ")).find();
  }

  /**
   * The text with nothing where {@code ${...}} could be anything: MyBatis puts nothing there for a
   * parameter that is null. Columns that are selected are all columns then. Empty where that could
   * be no SQL.
   */
  public static Optional<String> withNothing(String sql) {
    StringBuilder result = new StringBuilder();
    SqlParts parts = new SqlParts(sql);
    Matcher open = Properties.REFERENCE.matcher(sql);
    while (open.find()) {
      if (parts.isInert(open.start()) || isValue(sql, open.start(), open.end())) {
        open.appendReplacement(result, Matcher.quoteReplacement(open.group()));
        continue;
      }
      open.appendReplacement(result, "");
      String before = result.substring(Math.max(0, result.length() - LONGEST_LOOK_BACK));
      boolean glued =
          (open.start() > 0 && isPartOfName(sql.charAt(open.start() - 1)))
              || (open.end() < sql.length() && isPartOfName(sql.charAt(open.end())));
      if (!glued && isItem(before, sql, open.end())) {
        result.append('*');
      } else if (glued || NEEDS_NAME.matcher(before).find() || follows(GOES_ON, sql, open.end())) {
        return Optional.empty();
      }
    }
    return Optional.of(open.appendTail(result).toString().strip());
  }

  /**
   * The text with a parameter in the place of each open part that stands for a value; one inside a
   * literal stays.
   *
   * @param parameter what a parameter looks like
   */
  public static String withParameters(String sql, String parameter) {
    SqlParts parts = new SqlParts(sql);
    return Properties.REFERENCE
        .matcher(sql)
        .replaceAll(
            open ->
                Matcher.quoteReplacement(parts.isInert(open.start()) ? open.group() : parameter));
  }

  /** Whether nothing is known of a text. */
  public static boolean isWhole(String sql) {
    return Properties.REFERENCE.matcher(sql).replaceAll("").isBlank();
  }

  /**
   * Whether a text stops, or a part of it in parentheses, where something has to follow, or has
   * nothing between parentheses.
   */
  public static boolean isUnfinished(String sql) {
    return UNFINISHED.matcher(sql).find();
  }

  private static boolean isPartOfName(char c) {
    return isName(c) || c == '.' || c == '(' || c == '"' || c == '`';
  }

  private static boolean isItem(String before, String sql, int end) {
    return (SELECT.matcher(before).find() && follows(FROM_OR_ITEM, sql, end))
        || (ITEM.matcher(before).find() && follows(FROM, sql, end));
  }

  private static boolean follows(Pattern pattern, String sql, int at) {
    return pattern.matcher(sql).region(at, sql.length()).lookingAt();
  }

  private static boolean isValue(String sql, int start, int end) {
    char after = end < sql.length() ? sql.charAt(end) : ' ';
    if (isName(after) || after == '.' || after == '(' || after == '$') {
      return false;
    }
    String before = sql.substring(Math.max(0, start - LONGEST_LOOK_BACK), start);
    return BEFORE_VALUE.matcher(before).find()
        || (ITEM.matcher(before).find() && follows(LAST_OF_ROW, sql, end));
  }

  private static boolean isName(char c) {
    return Character.isLetterOrDigit(c) || c == '_' || c == '$';
  }
}
