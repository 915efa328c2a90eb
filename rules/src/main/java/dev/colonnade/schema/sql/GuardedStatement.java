package dev.colonnade.schema.sql;

import java.util.List;

/**
 * A statement, and what decides whether it runs.
 *
 * @param tokens its words
 * @param guard what stands around it
 * @param condition the words that decide, those of the statements before it included; empty without
 *     a condition
 */
record GuardedStatement(List<SqlToken> tokens, Guard guard, List<SqlToken> condition) {
  GuardedStatement {
    tokens = List.copyOf(tokens);
    condition = List.copyOf(condition);
  }

  /** What stands around a statement. */
  enum Guard {
    /** Nothing: it runs. */
    NONE,
    /** It runs when a condition holds. */
    CONDITION,
    /** It runs when a condition does not hold. */
    OTHERWISE,
    /** It runs once, many times or never. */
    LOOP,
    /** It runs, and an error in it is caught. */
    CAUGHT,
    /** It runs when another statement fails. */
    HANDLER
  }

  static GuardedStatement plain(List<SqlToken> tokens) {
    return new GuardedStatement(tokens, Guard.NONE, List.of());
  }

  /** True when the condition speaks of something that the statement names. */
  boolean isGuardedByName() {
    return condition.stream()
        .filter(token -> token.kind() == SqlToken.Kind.STRING)
        .map(token -> lastPart(token.text()))
        .anyMatch(
            name -> !name.isEmpty() && tokens.stream().anyMatch(token -> mentions(token, name)));
  }

  private static boolean mentions(SqlToken token, String name) {
    return token.kind() == SqlToken.Kind.STRING
        ? token.text().toLowerCase(java.util.Locale.ROOT).contains(name)
        : token.isName() && token.text().equalsIgnoreCase(name);
  }

  private static String lastPart(String literal) {
    String text = DynamicSql.content(literal).strip();
    String last = text.substring(text.lastIndexOf('.') + 1);
    return last.replaceAll("[\\[\\]\"`]", "").toLowerCase(java.util.Locale.ROOT);
  }
}
