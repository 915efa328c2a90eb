package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Restriction;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Finds the columns in SQL conditions that annotations hold, where the table's alias belongs. */
final class SqlFragments {
  /** A text, a quoted name or a word, each with what is asked of its surroundings. */
  private static final Pattern TOKEN =
      Pattern.compile(
          "'(?:[^']|'')*'|(?<![.:\\w])(?<name>\"[^\"]+\"|`[^`]+`|[A-Za-z_]\\w*)(?!\\w|\\s*\\(|\\s*\\.)");

  /** What stands for the alias in the conditions of filters (Hibernate ORM user guide). */
  private static final String ALIAS = "{alias}.";

  private SqlFragments() {}

  /** The condition, cut in front of each name that is a column, and where an alias is asked for. */
  static Restriction read(String written, Predicate<Identifier> isColumn) {
    if (written.contains(ALIAS)) {
      return new Restriction(List.of(written.split(Pattern.quote(ALIAS), -1)));
    }
    String sql = written;
    List<String> parts = new ArrayList<>();
    int start = 0;
    Matcher matcher = TOKEN.matcher(sql);
    while (matcher.find()) {
      if (matcher.group("name") != null && isColumn.test(Identifier.of(matcher.group("name")))) {
        parts.add(sql.substring(start, matcher.start()));
        start = matcher.start();
      }
    }
    parts.add(sql.substring(start));
    return new Restriction(parts);
  }
}
