package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;
import static dev.colonnade.dialect.Sources.MEMORY;

/**
 * What joins take from, and leave to, the tables that they join: whether the order of the first one
 * reaches the result, and where equalities carry values from one to another.
 *
 * @param distinct true when DISTINCT over a join makes use of it; otherwise the rows are collected
 *     in a temporary table
 * @param outerJoin true when ORDER BY makes use of it where a table is joined by an outer join;
 *     otherwise the joined rows are sorted
 * @param groupsOfOuterJoin true when GROUP BY makes use of it where the rows of an outer join are
 *     joined with a further table
 * @param carriesBesideOuterJoin true when equalities carry values also where a table of the block
 *     is joined by an outer join
 * @param carriesFromSubquery true when a value that a subquery under IN or EXISTS fixes is carried
 *     to the table around it that is read first
 */
public record JoinRules(
    Fact<Boolean> distinct,
    Fact<Boolean> outerJoin,
    Fact<Boolean> groupsOfOuterJoin,
    Fact<Boolean> carriesBesideOuterJoin,
    Fact<Boolean> carriesFromSubquery) {
  private static final Fact<Boolean> USUAL = Fact.of(true, MEMORY);
  private static final Fact<Boolean> DERBY = Fact.of(false, "observed on Derby 10.16.1.1");

  /** The rules of a database. */
  public static JoinRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "mariadb" ->
          new JoinRules(
              Fact.of(
                  false,
                  "source, sql_select.cc, JOIN::optimize: need_tmp with select_distinct and several"
                      + " tables; observed on MariaDB 11.4.5"),
              USUAL,
              USUAL,
              USUAL,
              USUAL);
      case "mysql" ->
          new JoinRules(
              Fact.of(false, CAUTION + "; MariaDB, of one origin, does not"),
              USUAL,
              USUAL,
              USUAL,
              USUAL);
      case "h2" ->
          new JoinRules(
              USUAL,
              USUAL,
              USUAL,
              Fact.of(false, "observed on H2 2.5.252: conditions stay with their join"),
              USUAL);
      case "derby" -> new JoinRules(USUAL, DERBY, DERBY, DERBY, DERBY);
      default -> new JoinRules(USUAL, USUAL, USUAL, USUAL, USUAL);
    };
  }
}
