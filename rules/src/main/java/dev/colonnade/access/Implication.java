package dev.colonnade.access;

import dev.colonnade.dialect.IndexFeatures.Partial;
import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.EqualityLists;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.RowComparison;
import dev.colonnade.predicate.Predicate.RowInList;
import java.math.BigDecimal;
import java.util.List;
import java.util.OptionalInt;

/**
 * Proves that every row which satisfies a query's conditions has an entry in a partial index.
 *
 * <p>Safe direction: what is not proven is not implied. Sources: PostgreSQL 18 manual, chapter 11.8
 * "Partial Indexes" ("simple inequality implications ... otherwise the predicate condition must
 * exactly match part of the query's WHERE condition"); SQLite "Partial Indexes", section 3, rules 1
 * and 2; SQL Server "Create filtered indexes".
 *
 * @param rule what the database proves
 */
record Implication(Partial rule) {

  /** True when the conditions together imply every conjunct of the index's predicate. */
  boolean implies(List<Predicate> conditions, Predicate indexPredicate) {
    return rule != Partial.NONE
        && Conditions.conjuncts(indexPredicate).stream()
            .map(term -> EqualityLists.single(term, true).orElse(term))
            .allMatch(term -> anyImplies(conditions, term));
  }

  private boolean anyImplies(List<Predicate> conditions, Predicate term) {
    if (conditions.stream().anyMatch(condition -> implies(condition, term))) {
      return true;
    }
    return term instanceof Or or
        && or.parts().stream()
            .anyMatch(
                part ->
                    Conditions.conjuncts(part).stream()
                        .allMatch(conjunct -> anyImplies(conditions, conjunct)));
  }

  private boolean implies(Predicate condition, Predicate term) {
    if (condition.equals(term)) {
      return true;
    }
    if (term instanceof NullTest test && test.negated()) {
      return rejectsNull(condition, test.operand());
    }
    if (rule != Partial.IMPLICATION) {
      return false;
    }
    if (condition instanceof Or or) {
      return or.parts().stream().allMatch(part -> anyImplies(Conditions.conjuncts(part), term));
    }
    return (term instanceof Comparison comparison && impliesComparison(condition, comparison))
        || (term instanceof InList list && impliesMembership(condition, list));
  }

  /** True when no row with NULL in the value can satisfy the condition. */
  static boolean rejectsNull(Predicate condition, Expression value) {
    if (condition instanceof Comparison comparison) {
      boolean nullSafe =
          comparison.operator() == ComparisonOperator.NULL_SAFE_EQUAL
              || comparison.operator() == ComparisonOperator.NULL_SAFE_NOT_EQUAL;
      return !nullSafe && (comparison.left().equals(value) || comparison.right().equals(value));
    }
    if (condition instanceof InList list) {
      return list.operand().equals(value);
    }
    if (condition instanceof Like like) {
      return like.operand().equals(value);
    }
    if (condition instanceof RowInList list) {
      return list.operands().contains(value);
    }
    if (condition instanceof RowComparison row) {
      return row.left().get(0).equals(value);
    }
    return condition instanceof NullTest test && test.negated() && test.operand().equals(value);
  }

  private static boolean impliesComparison(Predicate condition, Comparison term) {
    if (!(term.right() instanceof Literal limit)) {
      return false;
    }
    if (condition instanceof InList list && list.operand().equals(term.left())) {
      return !list.openEnded()
          && list.values().stream()
              .allMatch(value -> value instanceof Literal literal && holds(literal, term, limit));
    }
    if (!(condition instanceof Comparison comparison)
        || !comparison.left().equals(term.left())
        || !(comparison.right() instanceof Literal given)) {
      return false;
    }
    if (comparison.operator() == ComparisonOperator.EQUAL) {
      return holds(given, term, limit);
    }
    OptionalInt order = compare(given, limit);
    if (order.isEmpty()) {
      return false;
    }
    int c = order.getAsInt();
    return switch (term.operator()) {
      case LESS ->
          (comparison.operator() == ComparisonOperator.LESS && c <= 0)
              || (comparison.operator() == ComparisonOperator.LESS_OR_EQUAL && c < 0);
      case LESS_OR_EQUAL ->
          (comparison.operator() == ComparisonOperator.LESS
                  || comparison.operator() == ComparisonOperator.LESS_OR_EQUAL)
              && c <= 0;
      case GREATER ->
          (comparison.operator() == ComparisonOperator.GREATER && c >= 0)
              || (comparison.operator() == ComparisonOperator.GREATER_OR_EQUAL && c > 0);
      case GREATER_OR_EQUAL ->
          (comparison.operator() == ComparisonOperator.GREATER
                  || comparison.operator() == ComparisonOperator.GREATER_OR_EQUAL)
              && c >= 0;
      case NOT_EQUAL -> excludes(comparison.operator(), c);
      case EQUAL, NULL_SAFE_EQUAL, NULL_SAFE_NOT_EQUAL -> false;
    };
  }

  /** True when {@code x operator given} leaves out a limit that compares to given as {@code -c}. */
  private static boolean excludes(ComparisonOperator operator, int c) {
    return switch (operator) {
      case LESS -> c <= 0;
      case LESS_OR_EQUAL -> c < 0;
      case GREATER -> c >= 0;
      case GREATER_OR_EQUAL -> c > 0;
      case EQUAL, NULL_SAFE_EQUAL, NOT_EQUAL, NULL_SAFE_NOT_EQUAL -> false;
    };
  }

  private static boolean impliesMembership(Predicate condition, InList term) {
    if (condition instanceof InList list && list.operand().equals(term.operand())) {
      return !list.openEnded() && term.values().containsAll(list.values());
    }
    return condition instanceof Comparison comparison
        && comparison.operator() == ComparisonOperator.EQUAL
        && comparison.left().equals(term.operand())
        && comparison.right() instanceof Literal
        && term.values().contains(comparison.right());
  }

  private static boolean holds(Literal value, Comparison term, Literal limit) {
    OptionalInt order = compare(value, limit);
    return switch (term.operator()) {
      case EQUAL, NULL_SAFE_EQUAL -> order.isPresent() && order.getAsInt() == 0;
      case NOT_EQUAL -> order.isPresent() && order.getAsInt() != 0;
      case LESS -> order.isPresent() && order.getAsInt() < 0;
      case LESS_OR_EQUAL -> order.isPresent() && order.getAsInt() <= 0;
      case GREATER -> order.isPresent() && order.getAsInt() > 0;
      case GREATER_OR_EQUAL -> order.isPresent() && order.getAsInt() >= 0;
      case NULL_SAFE_NOT_EQUAL -> false;
    };
  }

  /** Compares two literals of one kind; empty where the outcome could depend on a collation. */
  private static OptionalInt compare(Literal one, Literal other) {
    if (one.kind() != other.kind()) {
      return OptionalInt.empty();
    }
    if (one.equals(other)) {
      return OptionalInt.of(0);
    }
    if (one.kind() == LiteralKind.NUMBER) {
      try {
        return OptionalInt.of(new BigDecimal(one.text()).compareTo(new BigDecimal(other.text())));
      } catch (NumberFormatException notDecimal) {
        return OptionalInt.empty();
      }
    }
    boolean isoOrdered =
        one.kind() == LiteralKind.DATE
            || one.kind() == LiteralKind.TIME
            || one.kind() == LiteralKind.TIMESTAMP;
    return isoOrdered && one.text().length() == other.text().length()
        ? OptionalInt.of(Integer.signum(one.text().compareTo(other.text())))
        : OptionalInt.empty();
  }
}
