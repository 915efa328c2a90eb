package dev.colonnade.planner;

import java.util.Optional;

/**
 * What may be written in a database's SQL, as far as generated queries use it.
 *
 * @param truth true where there is a boolean type
 * @param rowComparison true where rows can be compared
 * @param rowList true where a row can be looked for in a list
 * @param rowListOfOneKind true where its columns are of one kind: H2 2.5.252 puts the columns into
 *     the order of an index without their types, and refuses the query where a value does not fit
 * @param nullSafe the null-safe equality operator
 * @param prefixCollation a collation under which LIKE is worth trying beside the default
 * @param prefixOperatorClass an operator class of the same kind
 * @param includedOnUnique true where a unique index may include columns
 * @param includedOnAny true where any index may
 * @param typedDays true where a day is written {@code date '2024-01-31'}
 * @param nullsOrder true where an order says where NULLs stand
 * @param offset how a number of rows behind the first three is asked for, with {@code %d} for it
 * @param limit how a number of rows is asked for, with {@code %d} for it
 */
record Abilities(
    boolean truth,
    boolean rowComparison,
    boolean rowList,
    boolean rowListOfOneKind,
    Optional<String> nullSafe,
    Optional<String> prefixCollation,
    Optional<String> prefixOperatorClass,
    boolean includedOnUnique,
    boolean includedOnAny,
    boolean typedDays,
    boolean nullsOrder,
    String offset,
    String limit) {

  /** The n-th value of a kind as a literal. */
  String literal(ValueKind kind, int n) {
    return switch (kind) {
      case INTEGER, BIG, DECIMAL, TRUTH -> kind.text(n);
      case TEXT -> "'" + kind.text(n) + "'";
      case DAY -> (typedDays ? "date '" : "'") + kind.text(n) + "'";
    };
  }
}
