package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;
import static dev.colonnade.dialect.Sources.MEMORY;

/**
 * How a database reads outer joins.
 *
 * @param byConditions true where a condition of WHERE that rejects rows of NULLs makes an outer
 *     join an inner one
 * @param bySubqueries true where IN of a subquery is among such conditions
 * @param byLaterJoins true where the ON of another join around it is
 * @param reached true where conditions of WHERE reach the tables of an outer join that is itself
 *     joined with ON to others
 */
public record OuterJoinRules(
    Fact<Boolean> byConditions,
    Fact<Boolean> bySubqueries,
    Fact<Boolean> byLaterJoins,
    Fact<Boolean> reached) {
  private static final Fact<Boolean> REACHED = Fact.of(true, MEMORY);

  /** The rules of a database. */
  public static OuterJoinRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "postgresql" ->
          all("source, prepjointree.c, reduce_outer_joins; observed on PostgreSQL 18.6");
      case "mysql" ->
          all(
              "https://dev.mysql.com/doc/refman/8.4/en/outer-join-simplification.html; IN as a"
                  + " semi-join, "
                  + MEMORY);
      case "mariadb" -> all("observed on MariaDB 11.4.5");
      case "sqlite" ->
          rules(
              Fact.of(
                  true,
                  "https://www.sqlite.org/optoverview.html, OUTER JOIN strength reduction;"
                      + " observed on SQLite 3.54.1"),
              Fact.of(false, "observed on SQLite 3.54.1"),
              Fact.of(true, "observed on SQLite 3.54.1"));
      case "h2" -> none("observed on H2 2.5.252: the join stays LEFT OUTER");
      case "hsqldb" ->
          rules(
              Fact.of(true, "observed on HSQLDB 2.7.4"),
              Fact.of(false, "observed on HSQLDB 2.7.4"),
              Fact.of(false, "observed on HSQLDB 2.7.4"));
      case "derby" ->
          new OuterJoinRules(
              Fact.of(true, "observed on Derby 10.16.1.1"),
              Fact.of(false, "observed on Derby 10.16.1.1"),
              Fact.of(false, "observed on Derby 10.16.1.1"),
              Fact.of(
                  false,
                  "observed on Derby 10.16.1.1: the rows are filtered once they are joined; not so"
                      + " where the tables stand side by side in FROM"));
      default ->
          rules(
              Fact.of(true, "common practice, " + MEMORY),
              Fact.of(false, CAUTION),
              Fact.of(true, "common practice, " + MEMORY));
    };
  }

  private static OuterJoinRules all(String source) {
    return rules(Fact.of(true, source), Fact.of(true, source), Fact.of(true, source));
  }

  private static OuterJoinRules none(String source) {
    return rules(Fact.of(false, source), Fact.of(false, source), Fact.of(false, source));
  }

  private static OuterJoinRules rules(
      Fact<Boolean> byConditions, Fact<Boolean> bySubqueries, Fact<Boolean> byLaterJoins) {
    return new OuterJoinRules(byConditions, bySubqueries, byLaterJoins, REACHED);
  }
}
