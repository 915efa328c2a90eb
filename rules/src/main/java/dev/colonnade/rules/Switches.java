package dev.colonnade.rules;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Parameter;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.TruthTest;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Conditions that a parameter switches on or off. */
final class Switches {
  private static final Set<String> NULL_FILLS = Set.of("coalesce", "nvl", "ifnull", "isnull");

  private Switches() {}

  /** What the condition says once its value is given; empty where no parameter switches it. */
  static Optional<Predicate> given(Predicate condition) {
    if (condition instanceof Or or) {
      List<Predicate> rest = new ArrayList<>(or.parts());
      boolean switched = rest.removeIf(Switches::isSwitch);
      if (!switched || rest.isEmpty() || rest.stream().anyMatch(it -> it.columns().isEmpty())) {
        return Optional.empty();
      }
      return Optional.of(rest.size() == 1 ? rest.get(0) : new Or(rest));
    }
    return condition instanceof Comparison comparison ? filled(comparison) : Optional.empty();
  }

  /** {@code col = coalesce(:x, col)}. */
  private static Optional<Predicate> filled(Comparison comparison) {
    return comparison.left() instanceof ColumnRef column
            && comparison.right() instanceof Call call
            && NULL_FILLS.contains(call.name())
            && call.arguments().size() == 2
            && hasParameter(call.arguments().get(0))
            && call.arguments().get(0).columns().isEmpty()
            && call.arguments().get(1).equals(column)
        ? Optional.of(new Comparison(column, comparison.operator(), call.arguments().get(0)))
        : Optional.empty();
  }

  /** A condition on parameters alone. */
  private static boolean isSwitch(Predicate part) {
    if (!part.columns().isEmpty()) {
      return false;
    }
    if (part instanceof NullTest test) {
      return hasParameter(test.operand());
    }
    if (part instanceof Comparison comparison) {
      return hasParameter(comparison.left()) || hasParameter(comparison.right());
    }
    return part instanceof TruthTest test && hasParameter(test.operand());
  }

  private static boolean hasParameter(Expression expression) {
    return expression instanceof Parameter
        || (expression instanceof Call call
            && call.arguments().stream().anyMatch(Switches::hasParameter));
  }
}
