package dev.colonnade.access;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Or;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * What both branches of an OR say of one value against another: {@code a > 5 or (a = 5 and b > 7)},
 * the rows behind a place in a listing, asks for {@code a >= 5} at least.
 */
final class UnitedComparisons {
  private static final Set<ComparisonOperator> UP =
      EnumSet.of(
          ComparisonOperator.EQUAL,
          ComparisonOperator.GREATER,
          ComparisonOperator.GREATER_OR_EQUAL);
  private static final Set<ComparisonOperator> DOWN =
      EnumSet.of(
          ComparisonOperator.EQUAL, ComparisonOperator.LESS, ComparisonOperator.LESS_OR_EQUAL);

  private UnitedComparisons() {}

  /** The comparisons that follow from an OR of two branches. */
  static List<Comparison> of(Or or) {
    List<Comparison> result = new ArrayList<>();
    if (or.parts().size() == 2) {
      for (Comparison one : comparisons(or.parts().get(0))) {
        for (Comparison other : comparisons(or.parts().get(1))) {
          unite(one, other).ifPresent(result::add);
        }
      }
    }
    return result;
  }

  private static List<Comparison> comparisons(Predicate branch) {
    return Conditions.conjuncts(branch).stream()
        .filter(Comparison.class::isInstance)
        .map(Comparison.class::cast)
        .toList();
  }

  private static Optional<Comparison> unite(Comparison one, Comparison other) {
    if (!one.left().equals(other.left()) || !one.right().equals(other.right())) {
      return Optional.empty();
    }
    Set<ComparisonOperator> both = EnumSet.of(one.operator(), other.operator());
    if (both.size() == 1 && (UP.containsAll(both) || DOWN.containsAll(both))) {
      return Optional.of(one);
    }
    if (UP.containsAll(both)) {
      return Optional.of(
          new Comparison(one.left(), ComparisonOperator.GREATER_OR_EQUAL, one.right()));
    }
    return DOWN.containsAll(both)
        ? Optional.of(new Comparison(one.left(), ComparisonOperator.LESS_OR_EQUAL, one.right()))
        : Optional.empty();
  }
}
