package dev.colonnade.predicate;

import dev.colonnade.predicate.Expression.Parameter;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.Or;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Equalities and IN lists on one operand: joined by OR they are one list. */
public final class EqualityLists {
  private EqualityLists() {}

  /**
   * Flattens nested ORs and merges equalities and IN lists on one operand into one IN list ("the
   * same-column OR is an IN list" holds on all ten supported databases).
   */
  static Predicate or(List<Predicate> parts) {
    List<Predicate> flat = new ArrayList<>();
    for (Predicate part : parts) {
      if (part instanceof Or inner) {
        flat.addAll(inner.parts());
      } else {
        flat.add(part);
      }
    }
    Map<Expression, InList> lists = new LinkedHashMap<>();
    Map<Expression, Integer> positions = new LinkedHashMap<>();
    List<Predicate> merged = new ArrayList<>();
    for (Predicate part : flat) {
      Optional<InList> list = asInList(part);
      if (list.isEmpty()) {
        if (!merged.contains(part)) {
          merged.add(part);
        }
        continue;
      }
      Expression operand = list.get().operand();
      InList before = lists.get(operand);
      if (before == null) {
        positions.put(operand, merged.size());
        merged.add(part);
        lists.put(operand, list.get());
      } else {
        List<Expression> values = new ArrayList<>(before.values());
        values.addAll(list.get().values());
        boolean openEnded = before.openEnded() || list.get().openEnded();
        InList union = simplify(new InList(operand, values, openEnded));
        lists.put(operand, union);
        merged.set(positions.get(operand), union);
      }
    }
    return merged.size() == 1 ? merged.get(0) : new Or(List.copyOf(merged));
  }

  private static Optional<InList> asInList(Predicate part) {
    if (part instanceof InList list && list.values().stream().allMatch(Expression::isConstant)) {
      return Optional.of(list);
    }
    if (part instanceof Comparison comparison
        && comparison.operator() == ComparisonOperator.EQUAL
        && comparison.right().isConstant()
        && !comparison.left().isConstant()) {
      return Optional.of(new InList(comparison.left(), List.of(comparison.right()), false));
    }
    return Optional.empty();
  }

  /** The values without repetition; two question marks are two values. */
  private static List<Expression> distinct(List<Expression> values) {
    List<Expression> result = new ArrayList<>();
    for (Expression value : values) {
      boolean own = value instanceof Parameter parameter && parameter.text().equals("?");
      if (own || !result.contains(value)) {
        result.add(value);
      }
    }
    return List.copyOf(result);
  }

  /** Drops repeated values; where nothing else is left, the one value is kept twice. */
  static InList simplify(InList in) {
    List<Expression> values = distinct(in.values());
    boolean repeated = values.size() == 1 && in.values().size() > 1;
    return new InList(
        in.operand(), repeated ? List.of(values.get(0), values.get(0)) : values, in.openEnded());
  }

  /**
   * The equality that a list of one value amounts to; empty for other conditions and for a list
   * that may hold more when it is run.
   *
   * @param repeated true when the value may be written more than once
   */
  public static Optional<Predicate> single(Predicate predicate, boolean repeated) {
    return predicate instanceof InList in
            && !in.openEnded()
            && !in.operand().isConstant()
            && distinct(in.values()).size() == 1
            && (repeated || in.values().size() == 1)
        ? Optional.of(
            Conditions.oriented(
                new Comparison(in.operand(), ComparisonOperator.EQUAL, in.values().get(0))))
        : Optional.empty();
  }
}
