package dev.colonnade.statistics;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import java.util.OptionalDouble;

/**
 * The ranges that the conjuncts of one condition put on one value, taken together: a pair of ends
 * counts once.
 *
 * <p>Literal ends are placed by what is stated of the values ({@link ValueRanks}); otherwise
 * PostgreSQL's defaults stand in. Each further end can only lower the share.
 */
final class RangeSelectivity {
  private final ColumnFacts facts;
  private final Expression value;
  private final ValueRanks ranks;
  private double above = 1;
  private double below = 1;
  private boolean lowerEnd;
  private boolean upperEnd;
  private boolean unknownEnd;
  private Confidence confidence = Confidence.DERIVED;

  RangeSelectivity(ColumnFacts facts, Expression value) {
    this.facts = facts;
    this.value = value;
    this.ranks = new ValueRanks(facts, value);
  }

  /** Adds {@code value operator end}. */
  void add(ComparisonOperator operator, Expression end) {
    boolean lower =
        operator == ComparisonOperator.GREATER || operator == ComparisonOperator.GREATER_OR_EQUAL;
    lowerEnd |= lower;
    upperEnd |= !lower;
    OptionalDouble share = shareBelow(operator, end);
    if (share.isEmpty()) {
      unknownEnd = true;
      confidence = Confidence.ASSUMED;
    } else if (lower) {
      above = Math.min(above, 1 - share.getAsDouble());
    } else {
      below = Math.min(below, share.getAsDouble());
    }
  }

  /** Share of rows within all of the ends. */
  Estimate share() {
    double known = Math.max(0, above + below - 1);
    double unknown = 1;
    if (unknownEnd) {
      unknown =
          lowerEnd && upperEnd ? SelectivityDefaults.CLOSED_RANGE : SelectivityDefaults.OPEN_RANGE;
    }
    return new Estimate(Math.min(known, unknown) * facts.filled(value), confidence);
  }

  /** The share that lies below the end, the end itself counted where it does not belong there. */
  private OptionalDouble shareBelow(ComparisonOperator operator, Expression end) {
    if (!(end instanceof Literal literal) || literal.kind() == LiteralKind.NULL) {
      return OptionalDouble.empty();
    }
    boolean counted =
        operator == ComparisonOperator.GREATER || operator == ComparisonOperator.LESS_OR_EQUAL;
    return ranks.below(literal.text(), counted);
  }
}
