package dev.colonnade.statistics;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Exists;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.Not;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.OpaquePredicate;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.RowComparison;
import dev.colonnade.predicate.Predicate.RowInList;
import dev.colonnade.predicate.Predicate.TruthTest;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** The share of rows that one condition leaves, taken by itself. */
final class PredicateSelectivity implements Predicate.Visitor<Estimate> {
  private final ColumnFacts facts;
  private final SelectivityEstimator whole;

  PredicateSelectivity(ColumnFacts facts, SelectivityEstimator whole) {
    this.facts = facts;
    this.whole = whole;
  }

  private static Estimate without(Estimate part) {
    return new Estimate(1 - part.value(), part.confidence());
  }

  private static Estimate undecided() {
    return Estimate.assumed(SelectivityDefaults.UNDECIDED);
  }

  @Override
  public Estimate comparison(Comparison comparison) {
    boolean left = Values.own(comparison.left());
    boolean right = Values.own(comparison.right());
    if (!left && right) {
      return comparison(comparison.flipped());
    }
    if (!left) {
      return ofConstants(comparison);
    }
    if (right) {
      return ofTwoColumns(comparison);
    }
    Expression value = comparison.left();
    return switch (comparison.operator()) {
      case EQUAL -> facts.equality(value, comparison.right());
      case NULL_SAFE_EQUAL -> nullSafeEquality(value, comparison.right());
      case NOT_EQUAL -> notEqual(value, comparison.right());
      case NULL_SAFE_NOT_EQUAL -> without(nullSafeEquality(value, comparison.right()));
      case LESS, LESS_OR_EQUAL, GREATER, GREATER_OR_EQUAL -> {
        RangeSelectivity range = new RangeSelectivity(facts, value);
        range.add(comparison.operator(), comparison.right());
        yield range.share();
      }
    };
  }

  private Estimate nullSafeEquality(Expression value, Expression sought) {
    boolean isNull = sought instanceof Literal literal && literal.kind() == LiteralKind.NULL;
    return isNull ? facts.nulls(value) : facts.equality(value, sought);
  }

  private Estimate notEqual(Expression value, Expression sought) {
    if (sought instanceof Literal literal && literal.kind() == LiteralKind.NULL) {
      return Estimate.derived(0);
    }
    Estimate equal = facts.equality(value, sought);
    return new Estimate(facts.filled(value) - equal.value(), equal.confidence()).clamp(0, 1);
  }

  /** Two literals can be compared; anything else without a column is open. */
  private static Estimate ofConstants(Comparison comparison) {
    if (comparison.left() instanceof Literal && comparison.right() instanceof Literal) {
      boolean same = comparison.left().equals(comparison.right());
      if (comparison.operator() == ComparisonOperator.EQUAL) {
        return Estimate.derived(same ? 1 : 0);
      }
      if (comparison.operator() == ComparisonOperator.NOT_EQUAL) {
        return Estimate.derived(same ? 0 : 1);
      }
    }
    return undecided();
  }

  private Estimate ofTwoColumns(Comparison comparison) {
    Estimate equal =
        SelectivityEstimator.join(
            facts.distinct(comparison.left()), facts.distinct(comparison.right()));
    return switch (comparison.operator()) {
      case EQUAL, NULL_SAFE_EQUAL -> equal;
      case NOT_EQUAL, NULL_SAFE_NOT_EQUAL -> without(equal);
      case LESS, LESS_OR_EQUAL, GREATER, GREATER_OR_EQUAL ->
          Estimate.assumed(SelectivityDefaults.OPEN_RANGE);
    };
  }

  @Override
  public Estimate inList(InList list) {
    if (!Values.own(list.operand())) {
      return undecided();
    }
    double sum = 0;
    Confidence confidence = Confidence.DERIVED;
    for (Expression value : new HashSet<>(list.values())) {
      Estimate one = facts.equality(list.operand(), value);
      sum += one.value();
      confidence = confidence.weaker(one.confidence());
    }
    if (list.openEnded()) {
      double average = facts.filled(list.operand()) / facts.distinct(list.operand()).value();
      sum = Math.max(sum, SelectivityDefaults.LIST_LENGTH * average);
      confidence = Confidence.ASSUMED;
    }
    return new Estimate(Math.min(1, sum), confidence);
  }

  @Override
  public Estimate inSubquery(InSubquery inSubquery) {
    return undecided();
  }

  /** A comparison of rows lies within the same comparison of their first values. */
  @Override
  public Estimate rowComparison(RowComparison row) {
    return switch (row.operator()) {
      case EQUAL, NULL_SAFE_EQUAL -> ofRow(row.left(), row.operator(), row.right());
      case NOT_EQUAL, NULL_SAFE_NOT_EQUAL ->
          without(ofRow(row.left(), row.operator().negated(), row.right()));
      case LESS, LESS_OR_EQUAL, GREATER, GREATER_OR_EQUAL ->
          comparison(new Comparison(row.left().get(0), row.operator(), row.right().get(0)));
    };
  }

  private Estimate ofRow(
      List<Expression> left, ComparisonOperator operator, List<Expression> right) {
    Estimate product = Estimate.derived(1);
    for (int i = 0; i < left.size(); i++) {
      product = product.times(comparison(new Comparison(left.get(i), operator, right.get(i))));
    }
    return product;
  }

  @Override
  public Estimate rowInList(RowInList in) {
    double sum = 0;
    Confidence confidence = Confidence.DERIVED;
    for (List<Expression> row : new HashSet<>(in.rows())) {
      Estimate one = ofRow(in.operands(), ComparisonOperator.EQUAL, row);
      sum += one.value();
      confidence = confidence.weaker(one.confidence());
    }
    return new Estimate(Math.min(1, sum), confidence);
  }

  @Override
  public Estimate nullTest(NullTest test) {
    if (!Values.own(test.operand())) {
      return undecided();
    }
    Estimate nulls = facts.nulls(test.operand());
    return test.negated() ? without(nulls) : nulls;
  }

  @Override
  public Estimate like(Like like) {
    if (!Values.own(like.operand())) {
      return undecided();
    }
    Optional<String> head = like.literalPrefix();
    if (like.pattern() instanceof Literal pattern && head.isPresent()) {
      if (head.get().equals(pattern.text()) && !like.caseInsensitive()) {
        return facts.equality(like.operand(), pattern);
      }
      String everything = like.wildcards() == Like.Wildcards.LIKE ? "%" : "*";
      if (pattern.text().equals(everything)) {
        return without(facts.nulls(like.operand()));
      }
      OptionalDouble share =
          like.caseInsensitive() || !pattern.text().equals(head.get() + everything)
              ? OptionalDouble.empty()
              : new ValueRanks(facts, like.operand()).startingWith(head.get());
      if (share.isPresent()) {
        return Estimate.derived(share.getAsDouble() * facts.filled(like.operand()));
      }
    }
    return Estimate.assumed(SelectivityDefaults.PATTERN);
  }

  @Override
  public Estimate truthTest(TruthTest test) {
    if (!Values.own(test.operand())) {
      return undecided();
    }
    Literal sought = new Literal(String.valueOf(test.expected()), LiteralKind.BOOLEAN);
    Estimate share =
        facts.stated(test.operand()).commonValues().isEmpty()
            ? Estimate.assumed(SelectivityDefaults.TRUTH * facts.filled(test.operand()))
            : facts.equality(test.operand(), sought);
    if (!test.matchesNull()) {
      return share;
    }
    Estimate nulls = facts.nulls(test.operand());
    return new Estimate(
        Math.min(1, share.value() + nulls.value()), share.confidence().weaker(nulls.confidence()));
  }

  @Override
  public Estimate exists(Exists exists) {
    return undecided();
  }

  @Override
  public Estimate and(And and) {
    return whole.ofAll(and.parts());
  }

  /** Fa + Fb - Fa Fb (Selinger and others, SIGMOD 1979); the same branch twice counts once. */
  @Override
  public Estimate or(Or or) {
    Estimate none = Estimate.declared(1);
    for (Predicate part : new LinkedHashSet<>(or.parts())) {
      none = none.times(without(whole.of(part)));
    }
    return without(none);
  }

  @Override
  public Estimate not(Not not) {
    return without(whole.of(not.part()));
  }

  @Override
  public Estimate opaque(OpaquePredicate opaque) {
    return Estimate.assumed(SelectivityDefaults.OPAQUE);
  }
}
