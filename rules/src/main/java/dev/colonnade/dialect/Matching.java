package dev.colonnade.dialect;

/**
 * Which predicates bound a scan.
 *
 * @param inList in which positions of the key an IN list bounds the scan
 * @param isNull true when IS NULL bounds the scan like an equality
 * @param isNotNull in which positions of the key IS NOT NULL bounds the scan like a range
 * @param likePrefix when the fixed head of a LIKE pattern bounds the scan
 * @param rowComparison how far {@code (a, b) > (?, ?)} bounds the scan
 * @param rowInList true when {@code (a, b) in ((1, 2), (3, 4))} bounds the scan on both columns
 * @param skipScan whether the scan can jump over an unbound leading column
 * @param orUnion true when the branches of an OR can each use an index of their own
 * @param orRanges true when ranges common to all branches of an OR bound the scan
 * @param screening which predicates are checked on the entry before the row is fetched
 * @param nullSafeEquality true when {@code a <=> ?} or {@code a is not distinct from ?} bounds the
 *     scan like an equality
 * @param truthTest true when a bare boolean column, {@code where active}, bounds the scan like an
 *     equality with TRUE (and {@code not active} like one with FALSE)
 * @param endTrim true when a later column trims the two ends of an inclusive range; such a column
 *     is not counted as matching
 * @param notEqual true when {@code a <> 5} bounds the scan: all below 5 and all above
 * @param lookupByEqualities true when a scan that is repeated with values of another table is bound
 *     by equalities only: a list or a range beside them is checked on the entries
 * @param carried what an equality of two columns carries from one to the other
 * @param bareTruthTest where a boolean column bounds the scan: true when the bare column does,
 *     false when only its negation does
 */
public record Matching(
    Fact<InListPosition> inList,
    Fact<Boolean> isNull,
    Fact<NotNullPosition> isNotNull,
    Fact<LikePrefix> likePrefix,
    Fact<RowBound> rowComparison,
    Fact<Boolean> rowInList,
    Fact<SkipScan> skipScan,
    Fact<Boolean> orUnion,
    Fact<Boolean> orRanges,
    Fact<Screening> screening,
    Fact<Boolean> nullSafeEquality,
    Fact<Boolean> truthTest,
    Fact<Boolean> endTrim,
    Fact<Boolean> notEqual,
    Fact<Boolean> lookupByEqualities,
    Fact<Carried> carried,
    Fact<Boolean> bareTruthTest) {

  /** What {@code a.x = b.y} carries from one column to the other. */
  public enum Carried {
    /** Nothing. */
    NOTHING,
    /** Equality with a value, where the two conditions are all that is asked. */
    VALUES_OF_PAIR,
    /** Equality with a value: with {@code b.y = 5}, a is searched for 5. */
    VALUES,
    /** Any comparison with a value, ranges included. */
    COMPARISONS,
    /** Any comparison with values, ranges and lists included. */
    CONDITIONS
  }

  /** In which positions of the key an IN list bounds the scan. */
  public enum InListPosition {
    /** In any position; columns behind it are bound as after an equality. */
    ANY,
    /** On the leading column only; equalities behind it still bound the scan. */
    LEADING,
    /**
     * On the leading column only, and nothing behind it bounds the scan, but for further columns of
     * a list of rows.
     */
    LEADING_ALONE,
    /** On the leading column only, and nothing behind it bounds the scan. */
    LEADING_LAST
  }

  /** In which positions of the key IS NOT NULL bounds the scan. */
  public enum NotNullPosition {
    /** In none. */
    NONE,
    /** On the leading column only. */
    LEADING,
    /** In any position. */
    ANY
  }

  /** How far a comparison of rows bounds a scan. */
  public enum RowBound {
    /** Not at all. */
    NONE,
    /** On the first column of the row. */
    FIRST_COLUMN,
    /** On every column of the row that continues the key. */
    ALL_COLUMNS
  }

  /** When the fixed head of a LIKE pattern bounds the scan. */
  public enum LikePrefix {
    /** Always. */
    ALWAYS,
    /**
     * With a byte-order collation ({@code C}, {@code POSIX}) or a pattern operator class; not with
     * the collation that a database has by default.
     */
    BYTE_ORDER,
    /** With a column or key part whose collation ignores case ({@code NOCASE}). */
    CASE_INSENSITIVE_COLLATION
  }

  /** Whether the scan can jump over an unbound leading column. */
  public enum SkipScan {
    /** Never. */
    NONE,
    /** Where the leading column has few distinct values. */
    FEW_LEADING_VALUES,
    /** Likewise, for a range on the next column, one table, covering, no grouping. */
    COVERING_RANGE,
    /** Likewise, once statistics show how few. */
    WITH_STATISTICS
  }

  /** Which predicates are checked on the entry before the row is fetched. */
  public enum Screening {
    /** Any predicate whose columns the entry holds. */
    ANY_PREDICATE,
    /** Comparisons of a plain column with a value, {@code <>} included; no functions. */
    SIMPLE_COMPARISON,
    /** Only comparisons that the index could in principle search by. */
    INDEXABLE_ONLY,
    /** None: the row is always fetched first. */
    NONE
  }
}
