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
 * @param derivedTable true when ORDER BY makes use of it where a derived table, worked out by
 *     itself, is joined with two tables or more
 * @param groupsOfOuterJoin true when GROUP BY makes use of it where the rows of an outer join are
 *     joined with a further table
 * @param carriesBesideOuterJoin true when equalities carry values also where a table of the block
 *     is joined by an outer join
 * @param carriesFromSubquery true when a value that a subquery under IN or EXISTS fixes is carried
 *     to the table around it that is read first
 * @param fixedElsewhere where a column of a table that is read later and that equals a constant is
 *     known to have one value
 * @param equatesOwnColumns true when an equality of two columns of one table carries values as well
 * @param carriesFromLater true when, of three tables or more in FROM, what the condition on a later
 *     one makes its column equal is carried to the column of an earlier one that it equals
 * @param listOfExists whether what the select list of an EXISTS names is read
 */
public record JoinRules(
    Fact<Boolean> distinct,
    Fact<Boolean> outerJoin,
    Fact<Boolean> derivedTable,
    Fact<Boolean> groupsOfOuterJoin,
    Fact<Boolean> carriesBesideOuterJoin,
    Fact<Boolean> carriesFromSubquery,
    Fact<FixedElsewhere> fixedElsewhere,
    Fact<Boolean> equatesOwnColumns,
    Fact<Boolean> carriesFromLater,
    Fact<ListOfExists> listOfExists) {
  private static final Fact<Boolean> USUAL = Fact.of(true, MEMORY);
  private static final Fact<FixedElsewhere> IN_BOTH = Fact.of(FixedElsewhere.IN_BOTH, MEMORY);
  private static final Fact<ListOfExists> LIST_MOOT = Fact.of(ListOfExists.NOT_READ, MEMORY);
  private static final Fact<Boolean> NO_STEPS = Fact.of(false, "classes of equal values instead");
  private static final Fact<Boolean> DERBY = Fact.of(false, "observed on Derby 10.16.1.1");

  /** Whether the select list of an EXISTS counts. */
  public enum ListOfExists {
    /** No. */
    NOT_READ,
    /** Yes, unless the EXISTS, over one table and under no OR or NOT, becomes a join. */
    READ_UNLESS_JOINED,
    /** Yes. */
    READ
  }

  /** Where the one value of a column of a table that is read later is made use of. */
  public enum FixedElsewhere {
    /** Nowhere. */
    NOWHERE,
    /** In an order. */
    IN_ORDER,
    /** In an order and in groups. */
    IN_BOTH;

    /**
     * True where the column need not be sorted by.
     *
     * @param grouping true for groups, false for an order
     */
    public boolean holds(boolean grouping) {
      return switch (this) {
        case NOWHERE -> false;
        case IN_ORDER -> !grouping;
        case IN_BOTH -> true;
      };
    }
  }

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
              USUAL,
              USUAL,
              IN_BOTH,
              USUAL,
              NO_STEPS,
              LIST_MOOT);
      case "mysql" ->
          new JoinRules(
              Fact.of(false, CAUTION + "; MariaDB, of one origin, does not"),
              USUAL,
              USUAL,
              USUAL,
              USUAL,
              USUAL,
              IN_BOTH,
              USUAL,
              NO_STEPS,
              LIST_MOOT);
      case "h2" ->
          new JoinRules(
              USUAL,
              USUAL,
              USUAL,
              USUAL,
              Fact.of(false, "observed on H2 2.5.252: conditions stay with their join"),
              USUAL,
              IN_BOTH,
              USUAL,
              NO_STEPS,
              LIST_MOOT);
      case "derby" ->
          new JoinRules(
              USUAL,
              DERBY,
              DERBY,
              DERBY,
              DERBY,
              DERBY,
              Fact.of(FixedElsewhere.IN_ORDER, "observed on Derby 10.16.1.1 with foodmart"),
              DERBY,
              NO_STEPS,
              LIST_MOOT);
      case "sqlite" ->
          new JoinRules(
              USUAL,
              USUAL,
              USUAL,
              USUAL,
              USUAL,
              USUAL,
              Fact.of(
                  FixedElsewhere.NOWHERE,
                  "source, where.c, wherePathSatisfiesOrderBy: later loops count only where the"
                      + " earlier ones yield distinct orders, from memory; observed on SQLite"
                      + " 3.54.1"),
              USUAL,
              NO_STEPS,
              dialect
                  .version()
                  .choose(
                      Fact.of(
                          ListOfExists.READ_UNLESS_JOINED,
                          "source, select.c, existsToJoin, from memory; observed on SQLite 3.54.1"),
                      Fact.of(
                          ListOfExists.READ,
                          "EXISTS is joined from 3.51 on, release notes, " + MEMORY),
                      3,
                      51));
      case "hsqldb" ->
          new JoinRules(
              USUAL,
              USUAL,
              USUAL,
              USUAL,
              USUAL,
              USUAL,
              IN_BOTH,
              USUAL,
              Fact.of(
                  true,
                  "source, RangeVariableResolver.java, expandConditions; observed on HSQLDB 2.7.4"
                      + " with foodmart"),
              LIST_MOOT);
      default ->
          new JoinRules(
              USUAL, USUAL, USUAL, USUAL, USUAL, USUAL, IN_BOTH, USUAL, NO_STEPS, LIST_MOOT);
    };
  }
}
