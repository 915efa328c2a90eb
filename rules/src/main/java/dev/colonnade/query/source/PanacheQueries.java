package dev.colonnade.query.source;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Pattern;

/**
 * The fragments of HQL that Quarkus Panache is given, and the whole queries they stand for (Quarkus
 * guide "Simplified Hibernate ORM with Panache", "Simplified queries"; {@code PanacheJpaUtil} of
 * Quarkus 3.33, with which the tests compare).
 */
final class PanacheQueries {
  private static final Pattern ORDER = Pattern.compile("(?is)\\s*order\\s+by\\s.*");
  private static final Pattern UPDATE = Pattern.compile("(?i)^update\\s+from\\s+");

  private PanacheQueries() {}

  /**
   * The whole query; of {@code count} the one whose rows are counted.
   *
   * @param method the method's name
   * @param text what it is given; empty where it is about all rows
   * @param values how many values it is given; empty where that is not known
   * @param entity name of the entity
   * @return empty for a reference to a named query, which is read where it stands
   */
  static Optional<String> whole(String method, String text, OptionalInt values, String entity) {
    String given = text.strip();
    if (given.startsWith("#")) {
      return Optional.empty();
    }
    String lower = given.toLowerCase(Locale.ROOT).replaceAll("\\s", " ");
    boolean compared =
        !given.isEmpty() && !lower.contains(" ") && !lower.contains("=") && values.orElse(1) == 1;
    String condition = given + (compared ? " = ?1" : "");
    return Optional.of(
        switch (method) {
          case "update" -> update(lower, condition, entity);
          case "delete", "deleteAll" ->
              lower.startsWith("delete ")
                  ? given
                  : "delete " + from(ORDER.matcher(given).matches() ? "" : condition, entity);
          case "count" -> from(ORDER.matcher(given).matches() ? "" : condition, entity);
          default -> from(condition, entity);
        });
  }

  private static String from(String given, String entity) {
    String lower = given.toLowerCase(Locale.ROOT);
    if (lower.matches("(?s)(from|select|with)\\s.*")) {
      return given;
    }
    String from = "from " + entity;
    if (given.isEmpty()) {
      return from;
    }
    return from + (lower.matches("(?s)(order\\s+by|where)\\s.*") ? " " : " where ") + given;
  }

  private static String update(String lower, String given, String entity) {
    if (lower.startsWith("update ")) {
      return UPDATE.matcher(given).replaceFirst("update ");
    }
    if (lower.startsWith("from ")) {
      return "update " + given.substring("from ".length());
    }
    return "update " + entity + (lower.startsWith("set ") ? " " : " set ") + given;
  }
}
