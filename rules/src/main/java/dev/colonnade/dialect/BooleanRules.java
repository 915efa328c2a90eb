package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;

/**
 * What a database makes of conditions on boolean columns before it looks for indexes.
 *
 * @param notEqual true when {@code a <> false} is read as {@code a}, and {@code a <> true} as
 *     {@code not a}
 */
public record BooleanRules(Fact<Boolean> notEqual) {

  /** The rules of a database; what is not known of one is not claimed. */
  public static BooleanRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "postgresql" ->
          new BooleanRules(
              Fact.of(
                  true,
                  "source, clauses.c, simplify_boolean_equality; observed on PostgreSQL 18.6"));
      default -> new BooleanRules(Fact.of(false, CAUTION));
    };
  }
}
