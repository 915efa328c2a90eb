package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;
import static dev.colonnade.dialect.Sources.MEMORY;

import java.util.List;

/**
 * What a database makes of an OR before it looks for indexes.
 *
 * @param commonFactors where a condition that stands in every branch is taken out: {@code (a and b)
 *     or (a and c)} becomes {@code a and (b or c)}
 * @param comparisonsUnited true when comparisons of one column with one value in two branches bound
 *     the scan together: {@code a > 5 or (a = 5 and b > 7)} as {@code a >= 5}
 * @param boundsEachTable true when an OR over several tables bounds the scan of each that all its
 *     branches restrict, before the others are read: {@code (s.a = 1 and t.b = 2) or (s.a = 3 and
 *     t.b = 4)} as {@code s.a in (1, 3)}
 */
public record OrRules(
    Fact<CommonFactors> commonFactors,
    Fact<Boolean> comparisonsUnited,
    Fact<Boolean> boundsEachTable) {
  private static final Fact<Boolean> NOT_UNITED = Fact.of(false, CAUTION);
  private static final Fact<Boolean> WHOLE = Fact.of(false, CAUTION);

  /** The ORs out of which a condition of every branch is taken. */
  public enum CommonFactors {
    /** None. */
    NONE,
    /** Those of two branches of two conditions each. */
    OF_TWO_PAIRS,
    /** Those of two branches. */
    OF_TWO_BRANCHES,
    /** All. */
    ALL;

    /**
     * True for an OR of such branches.
     *
     * @param branches how many conditions each of them has
     */
    public boolean takenFrom(List<Integer> branches) {
      return switch (this) {
        case NONE -> false;
        case OF_TWO_PAIRS -> branches.equals(List.of(2, 2));
        case OF_TWO_BRANCHES -> branches.size() == 2;
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
              Fact.of(false, "observed on PostgreSQL 18.6"),
              Fact.of(
                  true,
                  "source, orclauses.c, extract_restriction_or_clauses; observed on PostgreSQL 18.6"
                      + " with foodmart"));
      case "mariadb" ->
          new OrRules(
              Fact.of(
                  CommonFactors.ALL,
                  "source, sql_select.cc, merge_key_fields, from memory; observed on MariaDB 11.4.5"
                      + " with query 19 of TPC-H"),
              NOT_UNITED,
              Fact.of(true, "observed on MariaDB 11.4.5"));
      case "mysql" ->
          new OrRules(
              Fact.of(CommonFactors.NONE, CAUTION),
              NOT_UNITED,
              Fact.of(true, MEMORY + "; as MariaDB, of one origin"));
      case "hsqldb" ->
          new OrRules(
              Fact.of(
                  CommonFactors.ALL,
                  "observed on HSQLDB 2.7.4 with query 19 of TPC-H and 13 of TPC-DS"),
              NOT_UNITED,
              WHOLE);
      case "h2" ->
          new OrRules(
              Fact.of(
                  CommonFactors.OF_TWO_PAIRS,
                  "source, ConditionAndOr.java, optimizeConditionAndOr, from memory; observed on H2"
                      + " 2.5.252 with foodmart"),
              NOT_UNITED,
              WHOLE);
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
                      + " 3.54.1"),
              Fact.of(false, "observed on SQLite 3.54.1"));
      default -> new OrRules(Fact.of(CommonFactors.NONE, CAUTION), NOT_UNITED, WHOLE);
    };
  }
}
