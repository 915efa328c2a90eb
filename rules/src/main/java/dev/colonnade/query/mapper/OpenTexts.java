package dev.colonnade.query.mapper;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Judges texts in which {@code ${...}} is left: text that the service puts there when it runs. As a
 * value it does no harm, and an order is one that is unknown; anywhere else it could be anything.
 */
final class OpenTexts {
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

  /** What stands in front of a value. */
  private static final Pattern BEFORE_VALUE =
      Pattern.compile(
          "([=<>+*/-]|\\b(i?like|limit|offset|escape|between|top|interval|first|next|when|then|else"
              + "|in\\s*\\(([^()]*,)?|values\\s*\\(([^()]*,)?"
              + "|between\\s+\\S+\\s+and))\\s*$",
          Pattern.CASE_INSENSITIVE);

  private static final int LONGEST_LOOK_BACK = 120;

  private OpenTexts() {}

  /** The text without the orders that nobody knows. */
  static String withoutUnknownOrder(String sql) {
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
  static Optional<String> unknown(String sql) {
    Matcher open = Properties.REFERENCE.matcher(sql);
    boolean quoted = false;
    int counted = 0;
    while (open.find()) {
      for (; counted < open.start(); counted++) {
        quoted ^= sql.charAt(counted) == '\'';
      }
      if (!quoted && !isValue(sql, open.start(), open.end())) {
        return Optional.of(open.group());
      }
    }
    return Optional.empty();
  }

  private static boolean isValue(String sql, int start, int end) {
    char after = end < sql.length() ? sql.charAt(end) : ' ';
    if (isName(after) || after == '.' || after == '(' || after == '$') {
      return false;
    }
    String before = sql.substring(Math.max(0, start - LONGEST_LOOK_BACK), start);
    return BEFORE_VALUE.matcher(before).find();
  }

  private static boolean isName(char c) {
    return Character.isLetterOrDigit(c) || c == '_' || c == '$';
  }
}
