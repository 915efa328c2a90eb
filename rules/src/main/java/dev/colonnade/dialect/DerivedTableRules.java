package dev.colonnade.dialect;

/**
 * What a database does with the rows of a query in FROM: a derived table, a view, a common table
 * expression.
 *
 * @param merged which plain ones, whose rows are joined rows of tables, are read as part of the
 *     query around them, so that its conditions bound their scans and only the columns that it asks
 *     for are needed
 * @param commonTables which common table expressions are treated like derived tables
 * @param pushed which conditions of the query around them bound the scans of the others
 */
public record DerivedTableRules(
    Fact<Merged> merged, Fact<CommonTables> commonTables, Fact<Pushed> pushed) {

  /** Plain derived tables that become part of the query around them. */
  public enum Merged {
    /** None. */
    NONE,
    /** One that is the only item of its FROM clause. */
    ALONE,
    /**
     * Every one, but on the inner side of an outer join only one without a join of its own, and
     * none under DISTINCT.
     */
    RESTRICTED_WHERE_MISSING,
    /** Every one. */
    ANY
  }

  /** Common table expressions that are treated like derived tables; recursive ones never are. */
  public enum CommonTables {
    /** None: each is worked out by itself. */
    NONE,
    /** One that is named once and not declared MATERIALIZED. */
    NAMED_ONCE,
    /** Every one that is not declared MATERIALIZED. */
    ANY
  }

  /** Conditions that are asked of the rows inside already. */
  public enum Pushed {
    /** None. */
    NOTHING,
    /**
     * Those on the derived table alone, but for an OR, where it is no common table expression, its
     * rows are neither grouped nor those of a set operation, and where no table around it is joined
     * by an outer join.
     */
    OWN_OF_PLAIN,
    /** Those on the derived table alone. */
    OWN,
    /** Those, where no window function numbers the rows inside. */
    OWN_WITHOUT_WINDOWS,
    /**
     * Comparisons of the derived table with constants and with the tables read before it, tests for
     * NULL and for truth values.
     */
    COMPARISONS_AND_JOINS
  }

  /** The rules of a database. */
  public static DerivedTableRules of(Dialect dialect) {
    return DerivedTableRulesByDatabase.of(dialect);
  }
}
