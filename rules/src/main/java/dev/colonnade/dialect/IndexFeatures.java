package dev.colonnade.dialect;

/**
 * Which kinds of index there are and which the database makes by itself.
 *
 * @param included columns that are stored without being key
 * @param partial indexes with a predicate, and what proves that a query may use one
 * @param expressions true when an expression can be indexed
 * @param descending true when descending key columns are stored so
 * @param indexOnly true when a query can be answered from the index alone
 * @param expressionCoversItself true when an index on f(x) alone answers a query that needs f(x)
 *     and not x
 * @param storesAllNullKeys false when a row whose key columns are all NULL has no entry
 * @param foreignKeyIndexed true when the database makes an index for a foreign key that has none
 * @param maxKeyColumns most columns in a key
 * @param maxKeyBytes most bytes in a key; 0 where none is stated
 * @param predicateCovers for which conditions that the index's own predicate guarantees a column
 *     need not be in the index
 */
public record IndexFeatures(
    Fact<Included> included,
    Fact<Partial> partial,
    Fact<Boolean> expressions,
    Fact<Boolean> descending,
    Fact<Boolean> indexOnly,
    Fact<Boolean> expressionCoversItself,
    Fact<Boolean> storesAllNullKeys,
    Fact<Boolean> foreignKeyIndexed,
    Fact<Integer> maxKeyColumns,
    Fact<Integer> maxKeyBytes,
    Fact<PredicateCover> predicateCovers) {

  /** Conditions of an index's own predicate whose columns need not be in the index. */
  public enum PredicateCover {
    /** None. */
    NONE,
    /** Equalities: the value is known. */
    EQUALITIES,
    /** All: they are not checked again. */
    ALL
  }

  /** Columns that are stored without being key. */
  public enum Included {
    /** Not to be had. */
    NONE,
    /** On unique indexes only. */
    UNIQUE_ONLY,
    /** On any index. */
    ANY
  }

  /** Indexes with a predicate, and what proves that a query may use one. */
  public enum Partial {
    /** Not to be had. */
    NONE,
    /**
     * Simple implication between comparisons with literals on one column; strict operators imply IS
     * NOT NULL; parameters prove only that.
     */
    IMPLICATION,
    /** The query must contain the very term; any comparison but IS implies IS NOT NULL. */
    SAME_TERM
  }
}
