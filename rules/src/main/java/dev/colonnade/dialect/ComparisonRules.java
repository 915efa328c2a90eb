package dev.colonnade.dialect;

/**
 * What a database does where the two sides of a comparison are of different types, and when it
 * makes its plans.
 *
 * @param textWithNumber a text column against a number literal
 * @param textWithMoment a text column against a date or timestamp literal
 * @param integerWithDecimal an integer column against a number literal with a fraction part, or
 *     against a column of decimal type
 * @param nationalParameters true where the driver sends text parameters as national characters
 *     unless told otherwise, and a column of plain characters is converted to them
 * @param plansWithValues true where a plan is made with the parameters' values at hand, so that a
 *     condition on parameters alone is settled before the plan is made
 */
public record ComparisonRules(
    Fact<Conversion> textWithNumber,
    Fact<Conversion> textWithMoment,
    Fact<Conversion> integerWithDecimal,
    Fact<Boolean> nationalParameters,
    Fact<Boolean> plansWithValues) {

  /** Which side is converted. */
  public enum Conversion {
    /** The value: an index on the column serves. */
    VALUE,
    /** The column: no index on it serves. */
    COLUMN,
    /** Neither: the statement is rejected. */
    REJECTED,
    /** Not known: nothing is claimed and nothing is said. */
    UNKNOWN
  }

  /** The rules of a database. */
  public static ComparisonRules of(Dialect dialect) {
    return ComparisonRulesByDatabase.of(dialect.shortName());
  }
}
