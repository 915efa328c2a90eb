package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;

/**
 * What a database makes of an OR before it looks for indexes.
 *
 * @param commonFactors true when a condition that stands in every branch is taken out: {@code (a
 *     and b) or (a and c)} becomes {@code a and (b or c)}
 */
public record OrRules(Fact<Boolean> commonFactors) {

  /** The rules of a database; what is not known of one is not claimed. */
  public static OrRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "postgresql" ->
          new OrRules(
              Fact.of(
                  true,
                  "source, src/backend/optimizer/prep/prepqual.c, find_duplicate_ors; observed on"
                      + " PostgreSQL 18.6 with query 19 of TPC-H"));
      default -> new OrRules(Fact.of(false, CAUTION));
    };
  }
}
