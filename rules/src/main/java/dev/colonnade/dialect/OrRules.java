package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;

/**
 * What a database makes of an OR before it looks for indexes.
 *
 * @param commonFactors where a condition that stands in every branch is taken out: {@code (a and b)
 *     or (a and c)} becomes {@code a and (b or c)}
 * @param comparisonsUnited true when comparisons of one column with one value in two branches bound
 *     the scan together: {@code a > 5 or (a = 5 and b > 7)} as {@code a >= 5}
 */
public record OrRules(Fact<CommonFactors> commonFactors, Fact<Boolean> comparisonsUnited) {
  private static final Fact<Boolean> NOT_UNITED = Fact.of(false, CAUTION);

  /** The ORs out of which a condition of every branch is taken. */
  public enum CommonFactors {
    /** None. */
    NONE,
    /** Those of two branches. */
    OF_TWO_BRANCHES,
    /** All. */
    ALL;

    /** True for an OR of so many branches. */
    public boolean takenFrom(int branches) {
      return switch (this) {
        case NONE -> false;
        case OF_TWO_BRANCHES -> branches == 2;
        case ALL -> true;
      };
    }
  }

  /** The rules of a database; what is not known of one is not claimed. */
  public static OrRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "postgresql" ->
          new OrRules(
              Fact.of(
                  CommonFactors.ALL,
                  "source, src/backend/optimizer/prep/prepqual.c, find_duplicate_ors; observed on"
                      + " PostgreSQL 18.6 with query 19 of TPC-H"),
              Fact.of(false, "observed on PostgreSQL 18.6"));
      case "mariadb" ->
          new OrRules(
              Fact.of(
                  CommonFactors.ALL,
                  "source, sql_select.cc, merge_key_fields, from memory; observed on MariaDB 11.4.5"
                      + " with query 19 of TPC-H"),
              NOT_UNITED);
      case "hsqldb" ->
          new OrRules(
              Fact.of(
                  CommonFactors.ALL,
                  "observed on HSQLDB 2.7.4 with query 19 of TPC-H and 13 of TPC-DS"),
              NOT_UNITED);
      case "sqlite" ->
          new OrRules(
              Fact.of(
                  CommonFactors.OF_TWO_BRANCHES,
                  "source, whereexpr.c, exprAnalyzeOrTerm and whereCombineDisjuncts, from memory;"
                      + " observed on SQLite 3.54.1: of three branches, as in query 13 of TPC-DS,"
                      + " nothing is taken out"),
              Fact.of(
                  true,
                  "source, whereexpr.c, whereCombineDisjuncts, from memory; observed on SQLite"
                      + " 3.54.1"));
      default -> new OrRules(Fact.of(CommonFactors.NONE, CAUTION), NOT_UNITED);
    };
  }
}
