package dev.colonnade.access;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Predicate;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * How far the conditions bound a scan of an index.
 *
 * @param matched the bounds that apply, in key order; one a matching key column, several columns of
 *     a row comparison sharing its bound
 * @param values the matching key columns
 * @param unique true when every declared key column is bound to one value and the index is unique
 * @param jumps number of values of an unbound leading column, or of the last range, that the scan
 *     jumps between; 1 where it does not jump
 * @param remark why matching ended where it did
 */
record KeyMatch(
    List<Bound> matched, List<Expression> values, boolean unique, double jumps, String remark) {

  KeyMatch {
    matched = List.copyOf(matched);
    values = List.copyOf(values);
  }

  static KeyMatch none(String remark) {
    return new KeyMatch(List.of(), List.of(), false, 1, remark);
  }

  /** The scan that jumps over the leading column: the bound applies once for each of its values. */
  KeyMatch jumping(Bound bound, double leadingValues) {
    return new KeyMatch(List.of(bound), List.of(), false, leadingValues, remark);
  }

  /** True for a scan that jumps over the leading column. */
  boolean isJumping() {
    return values.isEmpty() && !matched.isEmpty();
  }

  /** The scan that jumps within its last range: a further bound applies once for each value. */
  KeyMatch within(Bound bound, double rangeValues) {
    List<Bound> longer = new ArrayList<>(matched);
    longer.add(bound);
    return new KeyMatch(longer, values, false, rangeValues, remark);
  }

  /** The match without its last column, which bounds nothing where the index is read backwards. */
  KeyMatch withoutLast() {
    int last = values.size() - 1;
    return new KeyMatch(
        matched.subList(0, last),
        values.subList(0, last),
        false,
        jumps,
        "read backwards, the range on " + values.get(last).render() + " has no start");
  }

  /** Conditions whose whole content the scan's bounds take care of, or in part. */
  Set<Predicate> origins() {
    Set<Predicate> result = new LinkedHashSet<>();
    matched.forEach(bound -> result.addAll(bound.origins()));
    return result;
  }

  /** Number of separate stretches that are read. */
  double stretches() {
    double product = jumps;
    for (Bound bound : new LinkedHashSet<>(matched)) {
      product *= bound.points();
    }
    return product;
  }
}
