package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;
import static dev.colonnade.dialect.Sources.MEMORY;

/**
 * What a database makes of conditions before it looks for indexes.
 *
 * @param notEqual true when {@code a <> false} is read as {@code a}, and {@code a <> true} as
 *     {@code not a}
 * @param negationTakenIn true when NOT in front of comparisons is taken into them: {@code not (a >
 *     5)} is read as {@code a <= 5}
 * @param notNullDropped true when IS NOT NULL of a column that is NOT NULL is dropped, so that the
 *     column need not be read for it
 */
public record BooleanRules(
    Fact<Boolean> notEqual, Fact<Boolean> negationTakenIn, Fact<Boolean> notNullDropped) {
  private static final Fact<Boolean> COMPARED = Fact.of(false, CAUTION);
  private static final Fact<Boolean> TESTED = Fact.of(false, CAUTION);
  private static final Fact<Boolean> TAKEN_IN = Fact.of(true, "common practice, " + MEMORY);

  /** The rules of a database; what is not known of one is not claimed. */
  public static BooleanRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "postgresql" ->
          new BooleanRules(
              Fact.of(
                  true,
                  "source, clauses.c, simplify_boolean_equality; observed on PostgreSQL 18.6"),
              TAKEN_IN,
              dialect
                  .version()
                  .choose(
                      Fact.of(
                          true,
                          "source, initsplan.c, restriction_is_always_true; observed on PostgreSQL"
                              + " 18.6"),
                      Fact.of(false, "release notes 17: new there, " + MEMORY),
                      17));
      case "hsqldb" ->
          new BooleanRules(
              COMPARED,
              Fact.of(
                  false,
                  "source, ExpressionLogical.java, resolveTypes, where NOT stays, and"
                      + " RangeVariableResolver.java, which looks for NOT in front of IS NULL only;"
                      + " observed on HSQLDB 2.7.4"),
              TESTED);
      default -> new BooleanRules(COMPARED, TAKEN_IN, TESTED);
    };
  }
}
