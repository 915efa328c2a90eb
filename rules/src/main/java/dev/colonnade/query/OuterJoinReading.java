package dev.colonnade.query;

/**
 * How a database reads outer joins.
 *
 * @param byConditions true where a condition above that rejects rows of NULLs makes an outer join
 *     an inner one
 * @param bySubqueries true where IN of a subquery is among such conditions
 * @param byLaterJoins true where the ON of another join around it is
 * @param reached true where conditions of WHERE reach the tables of an outer join that is itself
 *     joined with ON to others
 */
public record OuterJoinReading(
    boolean byConditions, boolean bySubqueries, boolean byLaterJoins, boolean reached) {
  /** What the standard's meaning of the joins allows. */
  public static final OuterJoinReading FULL = new OuterJoinReading(true, true, true, true);
}
