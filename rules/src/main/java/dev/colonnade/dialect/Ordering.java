package dev.colonnade.dialect;

/**
 * Which orders a scan delivers.
 *
 * @param nullsFirst true when NULLs stand before all values in ascending order
 * @param nullsOrderWritable true when NULLS FIRST and LAST can be written in an index
 * @param backward true when an index can be read backwards to serve the reversed order
 * @param afterEquality true when {@code where a = 5 order by b} is served by (a, b)
 * @param overFiltered true when {@code where b = 5 order by a, c} is served by (a, b, c): a column
 *     fixed by a condition that only filters is passed over like one that bounds the scan
 * @param nullFixes true when IS NULL fixes a column for these purposes as an equality does
 * @param throughEquality true when {@code where a.x = b.y order by b.y} is served by the order of x
 * @param inListKeepsOrder what an IN list does to the order of the scan
 * @param fixedExpressions true when {@code f(x) = 5} fixes f(x) for an order as {@code x = 5} does
 *     x
 * @param groupsAfterEquality true when {@code where a = 5 group by b} finds its groups together in
 *     (a, b)
 * @param fixedGroupTerms true when {@code where a = 5 group by a, b} asks for no more than {@code
 *     group by b}
 * @param groupDirection which directions of the key columns let groups come together
 * @param uniqueEndsOrder true when nothing is asked of an order behind a whole unique key that the
 *     entries are read in the order of
 * @param booleansFix true when an order or grouping drops a boolean column that is tested, or
 *     compared with a literal, as it drops another column that equals a value
 * @param nullSafeFixes true when a null-safe equality fixes a column as {@code =} does
 * @param groupTermsInAnyOrder true when {@code group by b, a} finds its groups together in (a, b)
 */
public record Ordering(
    Fact<Boolean> nullsFirst,
    Fact<Boolean> nullsOrderWritable,
    Fact<Boolean> backward,
    Fact<Boolean> afterEquality,
    Fact<Boolean> overFiltered,
    Fact<Boolean> nullFixes,
    Fact<Boolean> throughEquality,
    Fact<InListOrder> inListKeepsOrder,
    Fact<Boolean> fixedExpressions,
    Fact<Boolean> groupsAfterEquality,
    Fact<Boolean> fixedGroupTerms,
    Fact<GroupDirection> groupDirection,
    Fact<Boolean> uniqueEndsOrder,
    Fact<Boolean> booleansFix,
    Fact<Boolean> nullSafeFixes,
    Fact<Boolean> groupTermsInAnyOrder) {

  /** Which directions of the key columns let groups come together. */
  public enum GroupDirection {
    /** Any mixture. */
    ANY,
    /** All ascending or all descending. */
    UNIFORM,
    /** All ascending. */
    ASCENDING
  }

  /** What an IN list does to the order of the scan. */
  public enum InListOrder {
    /** The key's order is kept, the list's column first. */
    KEPT,
    /** Kept when the list is on the leading column, lost otherwise. */
    KEPT_ON_LEADING,
    /** Lost. */
    LOST
  }
}
