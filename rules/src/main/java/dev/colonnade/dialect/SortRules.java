package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.MEMORY;

import dev.colonnade.dialect.Ordering.GroupDirection;

/**
 * What a planner sees beyond the order of the entries when it decides whether rows must be sorted
 * or collected in groups.
 *
 * @param singleRow true when one row at most, found by a whole unique key, is known to be in order
 * @param firstGroupingIndex true when only the first index of the table that could bring groups
 *     together is looked at, the primary key's before all
 * @param distinctDirection which directions of the key columns let the groups of DISTINCT come
 *     together
 * @param convertedFixesGroups true when a day or moment that equals a text has one value for
 *     grouping; otherwise only one that equals a value of its own type has
 * @param dependentGroupTerms which terms of GROUP BY are dropped because others decide them
 */
public record SortRules(
    Fact<Boolean> singleRow,
    Fact<Boolean> firstGroupingIndex,
    Fact<GroupDirection> distinctDirection,
    Fact<Boolean> convertedFixesGroups,
    Fact<DependentTerms> dependentGroupTerms) {

  private static final Fact<Boolean> CONVERTED = Fact.of(true, MEMORY);

  /** Terms of GROUP BY that others of the same table decide. */
  public enum DependentTerms {
    /** All are kept. */
    KEPT,
    /** Those behind a primary key that is grouped by are dropped. */
    PRIMARY_KEY,
    /** Those behind the shortest unique key without nullable columns that is grouped by are. */
    UNIQUE_KEY
  }

  /** The rules of a database. */
  public static SortRules of(Dialect dialect) {
    Fact<GroupDirection> likeGroups = dialect.ordering().groupDirection();
    return switch (dialect.shortName()) {
      case "postgresql" ->
          new SortRules(
              Fact.of(false, "observed on PostgreSQL 18.6"),
              Fact.of(false, "observed on PostgreSQL 18.6"),
              likeGroups,
              CONVERTED,
              dialect
                  .version()
                  .choose(
                      Fact.of(
                          DependentTerms.UNIQUE_KEY,
                          "source, initsplan.c, remove_useless_groupby_columns; observed on"
                              + " PostgreSQL 18.6"),
                      Fact.of(
                          DependentTerms.PRIMARY_KEY,
                          "release notes 18: unique indexes are new there, " + MEMORY),
                      18));
      case "h2" ->
          new SortRules(
              Fact.of(false, "observed on H2 2.5.252"),
              Fact.of(
                  true,
                  "source, Select.java, getGroupSortedIndex: the first is compared with the index"
                      + " in use; observed on H2 2.5.252"),
              likeGroups,
              CONVERTED,
              Fact.of(DependentTerms.KEPT, "observed on H2 2.5.252"));
      case "hsqldb" ->
          new SortRules(
              Fact.of(false, "observed on HSQLDB 2.7.4"),
              Fact.of(false, "observed on HSQLDB 2.7.4"),
              likeGroups,
              CONVERTED,
              Fact.of(DependentTerms.KEPT, "observed on HSQLDB 2.7.4"));
      case "sqlite" ->
          new SortRules(
              Fact.of(true, "source, where.c, WHERE_ONEROW; observed on SQLite 3.54.1"),
              Fact.of(false, "observed on SQLite 3.54.1"),
              Fact.of(
                  GroupDirection.UNIFORM,
                  "source, where.c, wherePathSatisfiesOrderBy: directions are moot for GROUP BY"
                      + " only; observed on SQLite 3.54.1"),
              CONVERTED,
              Fact.of(DependentTerms.KEPT, "observed on SQLite 3.54.1"));
      case "derby" ->
          new SortRules(
              Fact.of(true, MEMORY),
              Fact.of(false, MEMORY),
              likeGroups,
              Fact.of(false, "observed on Derby 10.16.1.1"),
              Fact.of(DependentTerms.KEPT, MEMORY));
      default ->
          new SortRules(
              Fact.of(true, MEMORY),
              Fact.of(false, MEMORY),
              likeGroups,
              CONVERTED,
              Fact.of(DependentTerms.KEPT, MEMORY));
    };
  }
}
