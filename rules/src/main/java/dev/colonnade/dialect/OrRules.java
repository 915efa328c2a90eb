package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;

/**
 * What a database makes of an OR before it looks for indexes.
 *
 * @param commonFactors true when a condition that stands in every branch is taken out: {@code (a
 *     and b) or (a and c)} becomes {@code a and (b or c)}
 * @param comparisonsUnited true when comparisons of one column with one value in two branches bound
 *     the scan together: {@code a > 5 or (a = 5 and b > 7)} as {@code a >= 5}
 */
public record OrRules(Fact<Boolean> commonFactors, Fact<Boolean> comparisonsUnited) {

  /** The rules of a database; what is not known of one is not claimed. */
  public static OrRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "postgresql" ->
          new OrRules(
              Fact.of(
                  true,
                  "source, src/backend/optimizer/prep/prepqual.c, find_duplicate_ors; observed on"
                      + " PostgreSQL 18.6 with query 19 of TPC-H"),
              Fact.of(false, "observed on PostgreSQL 18.6"));
      case "sqlite" ->
          new OrRules(
              Fact.of(false, CAUTION),
              Fact.of(
                  true,
                  "source, whereexpr.c, whereCombineDisjuncts, from memory; observed on SQLite"
                      + " 3.54.1"));
      default -> new OrRules(Fact.of(false, CAUTION), Fact.of(false, CAUTION));
    };
  }
}
