package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;
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
 * @param writtenNulls what NULLS FIRST or LAST, written in an order, asks of an index
 * @param ordersByNullsSorted true when an order or grouping by nothing but columns that IS NULL, a
 *     null-safe equality, or a range between a value and the same value fixes is sorted
 * @param nullFixesWhereSought true when IS NULL, or a null-safe equality, fixes a column for an
 *     order only where the scan is bound by it, and for grouping never; moot where it never fixes
 *     one
 * @param nullFirstKeepsOrder true when {@code a is null or a = 5} is read in the order of the index
 * @param uniqueEndsGroups true when rows that are read in the order of a whole unique key among the
 *     terms are each a group of their own
 * @param dependentGroupTerms which terms of GROUP BY are dropped because others decide them
 */
public record SortRules(
    Fact<Boolean> singleRow,
    Fact<Boolean> firstGroupingIndex,
    Fact<GroupDirection> distinctDirection,
    Fact<Boolean> convertedFixesGroups,
    Fact<WrittenNulls> writtenNulls,
    Fact<Boolean> ordersByNullsSorted,
    Fact<Boolean> nullFixesWhereSought,
    Fact<Boolean> nullFirstKeepsOrder,
    Fact<Boolean> uniqueEndsGroups,
    Fact<DependentTerms> dependentGroupTerms) {

  private static final Fact<Boolean> CONVERTED = Fact.of(true, MEMORY);
  private static final Fact<Boolean> ALL_TERMS = Fact.of(false, CAUTION);
  private static final Fact<Boolean> NULLS_ORDERED = Fact.of(false, MEMORY);
  private static final Fact<Boolean> ANYWHERE = Fact.of(false, CAUTION);
  private static final Fact<Boolean> IN_ORDER = Fact.of(true, MEMORY);
  private static final Fact<Boolean> REF_OR_NULL =
      Fact.of(
          false,
          "MySQL 8.4 manual, is-null-optimization.html: ref_or_null reads the value, then searches"
              + " for NULL; observed on MariaDB 11.4.5");
  private static final Fact<WrittenNulls> MOOT =
      Fact.of(WrittenNulls.MOOT_WITHOUT_NULLS, "common practice, " + MEMORY);

  /** What NULLS FIRST or LAST, written in an order, asks of an index. */
  public enum WrittenNulls {
    /** That its NULLs stand there; nothing where no row has NULL. */
    MOOT_WITHOUT_NULLS,
    /** That its NULLs stand there; nothing of a column that is NOT NULL. */
    COMPARED_IF_NULLABLE,
    /** That its NULLs stand there, though the column is NOT NULL; one row is sorted, too. */
    COMPARED,
    /**
     * Nothing, but that an order with NULLS LAST which names a nullable column is sorted, though no
     * row has NULL.
     */
    LAST_SORTED_WITH_NULLABLE,
    /**
     * That its NULLs stand there, or that the column is the first behind equalities, so that its
     * NULLs and its values are read in two parts. An order of the groups of GROUP BY that wants
     * NULLs at the unusual end is sorted.
     */
    READ_IN_TWO_PARTS
  }

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
              Fact.of(
                  WrittenNulls.COMPARED,
                  "source, pathkeys.c, make_pathkey_from_sortinfo: part of what is compared;"
                      + " observed on PostgreSQL 18.6"),
              NULLS_ORDERED,
              ANYWHERE,
              IN_ORDER,
              ALL_TERMS,
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
      case "mariadb" ->
          new SortRules(
              Fact.of(true, MEMORY),
              Fact.of(false, MEMORY),
              likeGroups,
              CONVERTED,
              MOOT,
              Fact.of(true, "observed on MariaDB 11.4.5"),
              Fact.of(true, "observed on MariaDB 11.4.5: \"ref\" to NULL is one to a constant"),
              REF_OR_NULL,
              ALL_TERMS,
              Fact.of(DependentTerms.KEPT, MEMORY));
      case "mysql" ->
          new SortRules(
              Fact.of(true, MEMORY),
              Fact.of(false, MEMORY),
              likeGroups,
              CONVERTED,
              MOOT,
              NULLS_ORDERED,
              ANYWHERE,
              REF_OR_NULL,
              ALL_TERMS,
              Fact.of(DependentTerms.KEPT, MEMORY));
      case "h2" ->
          new SortRules(
              Fact.of(false, "observed on H2 2.5.252"),
              Fact.of(
                  true,
                  "source, Select.java, getGroupSortedIndex: the first is compared with the index"
                      + " in use; observed on H2 2.5.252"),
              likeGroups,
              CONVERTED,
              Fact.of(WrittenNulls.COMPARED_IF_NULLABLE, "observed on H2 2.5.252"),
              NULLS_ORDERED,
              ANYWHERE,
              IN_ORDER,
              ALL_TERMS,
              Fact.of(DependentTerms.KEPT, "observed on H2 2.5.252"));
      case "hsqldb" ->
          new SortRules(
              Fact.of(false, "observed on HSQLDB 2.7.4"),
              Fact.of(false, "observed on HSQLDB 2.7.4"),
              likeGroups,
              CONVERTED,
              Fact.of(
                  WrittenNulls.LAST_SORTED_WITH_NULLABLE,
                  "source, SortAndSlice.java, where hasNullsLast and isNullable are asked for;"
                      + " observed on HSQLDB 2.7.4"),
              NULLS_ORDERED,
              ANYWHERE,
              IN_ORDER,
              ALL_TERMS,
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
              Fact.of(
                  WrittenNulls.READ_IN_TWO_PARTS,
                  "source, where.c, WHERE_BIGNULL_SORT, and select.c, where the lists of GROUP BY"
                      + " and ORDER BY are compared with their flags, from memory; observed on"
                      + " SQLite 3.54.1"),
              NULLS_ORDERED,
              ANYWHERE,
              IN_ORDER,
              Fact.of(true, "observed on SQLite 3.54.1"),
              Fact.of(DependentTerms.KEPT, "observed on SQLite 3.54.1"));
      case "derby" ->
          new SortRules(
              Fact.of(true, MEMORY),
              Fact.of(false, MEMORY),
              likeGroups,
              Fact.of(false, "observed on Derby 10.16.1.1"),
              Fact.of(WrittenNulls.COMPARED, "observed on Derby 10.16.1.1"),
              NULLS_ORDERED,
              ANYWHERE,
              IN_ORDER,
              Fact.of(true, "observed on Derby 10.16.1.1"),
              Fact.of(DependentTerms.KEPT, MEMORY));
      default ->
          new SortRules(
              Fact.of(true, MEMORY),
              Fact.of(false, MEMORY),
              likeGroups,
              CONVERTED,
              MOOT,
              NULLS_ORDERED,
              ANYWHERE,
              IN_ORDER,
              ALL_TERMS,
              Fact.of(DependentTerms.KEPT, MEMORY));
    };
  }
}
