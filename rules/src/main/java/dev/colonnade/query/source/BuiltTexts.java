package dev.colonnade.query.source;

import dev.colonnade.query.mapper.OpenTexts;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * The texts that a method puts together, as far as they can be analysed: with a parameter for a
 * value that is only known at run time, without an order that is, and otherwise with nothing in the
 * place of an open part.
 *
 * @param texts the texts, each once
 * @param open whether some stand for others with a part that could be anything
 */
record BuiltTexts(List<String> texts, boolean open) {
  /** What a statement starts with, one over entities included. */
  private static final Pattern START =
      Pattern.compile(
          "[\\s(]*(select|insert|update|delete|merge|replace|with|from|values)\\b",
          Pattern.CASE_INSENSITIVE);

  /** What defines tables or steers the session starts with. */
  private static final Pattern NO_QUERY =
      Pattern.compile(
          "\\s*(create|alter|drop|truncate|comment|grant|revoke|set|reset|show|use|pragma"
              + "|vacuum|analyze|lock|unlock|commit|rollback|savepoint|shutdown|checkpoint|call"
              + "|begin|listen|notify|refresh)\\b",
          Pattern.CASE_INSENSITIVE);

  /** True for a statement that reads and changes no rows, however it goes on. */
  static boolean isNoQuery(String text) {
    return NO_QUERY.matcher(text).lookingAt();
  }

  static BuiltTexts of(List<String> written) {
    Map<String, String> texts = new LinkedHashMap<>();
    Map<String, String> unfinished = new LinkedHashMap<>();
    boolean open = false;
    for (String text : written) {
      if (isNoQuery(text)) {
        continue;
      }
      String known = OpenTexts.withoutUnknownOrder(text);
      if (OpenTexts.isWhole(known)) {
        open = true;
        continue;
      }
      if (OpenTexts.unknown(known).isPresent()) {
        open = true;
        Optional<String> rest = OpenTexts.withNothing(known);
        if (rest.isEmpty() || !START.matcher(rest.get()).lookingAt()) {
          continue;
        }
        known = rest.get();
      }
      (OpenTexts.isUnfinished(known) ? unfinished : texts)
          .putIfAbsent(known.strip().replaceAll("\\s+", " "), known);
    }
    return new BuiltTexts(List.copyOf((texts.isEmpty() ? unfinished : texts).values()), open);
  }
}
