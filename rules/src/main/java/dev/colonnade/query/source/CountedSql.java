package dev.colonnade.query.source;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Native SQL of which pages are given out, as Spring Data JPA counts its rows where nobody wrote
 * the count: the same rows without their order ({@code QueryUtils.createCountQueryFor}).
 */
final class CountedSql {
  private static final Pattern TOKEN =
      Pattern.compile(
          "'(?:[^']|'')*'|\"[^\"]*\"|`[^`]*`|--[^\\n]*|/\\*.*?\\*/|[()]|[A-Za-z_]\\w*",
          Pattern.DOTALL);
  private static final Set<String> WORDS =
      Set.of("select", "from", "order", "union", "intersect", "except", "minus", "group");

  private CountedSql() {}

  /** The statement that counts; a text without FROM is counted as a whole. */
  static String of(String sql) {
    String text = sql.strip().replaceAll(";\\s*$", "");
    Map<String, Integer> places = outside(text);
    int end = places.getOrDefault("order", text.length());
    int select = places.getOrDefault("select", -1);
    int from = places.getOrDefault("from", -1);
    boolean several =
        places.keySet().stream()
            .anyMatch(Set.of("union", "intersect", "except", "minus", "group")::contains);
    if (select < 0 || from < select) {
      return text;
    }
    String before = text.substring(0, select);
    if (several) {
      return before + "select count(*) from (" + text.substring(select, end).strip() + ") counted";
    }
    String items = text.substring(select + "select".length(), from).strip();
    boolean distinct = items.toLowerCase(Locale.ROOT).matches("(?s)distinct\\s+[\\w.]+");
    if (!distinct && items.toLowerCase(Locale.ROOT).startsWith("distinct")) {
      return before + "select count(*) from (" + text.substring(select, end).strip() + ") counted";
    }
    return before
        + "select count("
        + (distinct ? items : "*")
        + ") "
        + text.substring(from, end).strip();
  }

  /** Where each of the words first stands outside of parentheses and quotes. */
  private static Map<String, Integer> outside(String text) {
    Map<String, Integer> result = new LinkedHashMap<>();
    int depth = 0;
    Matcher matcher = TOKEN.matcher(text);
    while (matcher.find()) {
      String token = matcher.group().toLowerCase(Locale.ROOT);
      depth += token.equals("(") ? 1 : token.equals(")") ? -1 : 0;
      if (depth == 0 && WORDS.contains(token)) {
        result.putIfAbsent(token, matcher.start());
      }
    }
    return result;
  }
}
