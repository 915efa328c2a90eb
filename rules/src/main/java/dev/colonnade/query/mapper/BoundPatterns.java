package dev.colonnade.query.mapper;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The patterns that a statement puts together with {@code bind} and that begin with a wildcard,
 * whatever is in them: {@code '%' + name + '%'}. MyBatis sends such a pattern as a parameter, which
 * alone does not tell that no index bounds it.
 */
final class BoundPatterns {
  private static final Pattern LIKED =
      Pattern.compile("\\b(like\\s+)#\\{\\s*(\\w+)\\s*(,[^}]*)?}", Pattern.CASE_INSENSITIVE);

  /** By name; empty where it stands for something else, too. */
  private final Map<String, Optional<String>> patterns = new HashMap<>();

  /**
   * Notes what a name is bound to.
   *
   * @param pattern its text, with {@code ${...}} where it is not known; empty where nothing is
   */
  void bind(String name, Optional<String> pattern) {
    Optional<String> leading = pattern.filter(it -> it.startsWith("%") || it.startsWith("_"));
    patterns.merge(name, leading, (a, b) -> a.equals(b) ? a : Optional.empty());
  }

  /** The text with such patterns in the place of their names, where they are matched. */
  String into(String sql) {
    if (patterns.values().stream().noneMatch(Optional::isPresent)) {
      return sql;
    }
    return LIKED
        .matcher(sql)
        .replaceAll(
            liked ->
                Matcher.quoteReplacement(
                    patterns
                        .getOrDefault(liked.group(2), Optional.empty())
                        .map(it -> liked.group(1) + "'" + it.replace("'", "''") + "'")
                        .orElse(liked.group())));
  }
}
