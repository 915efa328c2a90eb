package dev.colonnade.statistics;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.schema.TypeFamily;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The ranges that the conjuncts of one condition put on one value, taken together: a pair of ends
 * counts once.
 *
 * <p>With stated smallest and largest value and literal ends the share is the length of the range
 * (Selinger and others, SIGMOD 1979, table 1); otherwise PostgreSQL's defaults stand in. Each
 * further end can only lower the share.
 */
final class RangeSelectivity {
  private final ColumnFacts facts;
  private final Expression value;
  private double above = 1;
  private double below = 1;
  private boolean lowerEnd;
  private boolean upperEnd;
  private boolean unknownEnd;
  private Confidence confidence = Confidence.DERIVED;

  RangeSelectivity(ColumnFacts facts, Expression value) {
    this.facts = facts;
    this.value = value;
  }

  /** Adds {@code value operator end}. */
  void add(ComparisonOperator operator, Expression end) {
    boolean lower =
        operator == ComparisonOperator.GREATER || operator == ComparisonOperator.GREATER_OR_EQUAL;
    lowerEnd |= lower;
    upperEnd |= !lower;
    OptionalDouble share = shareAbove(end);
    if (share.isEmpty()) {
      unknownEnd = true;
      confidence = Confidence.ASSUMED;
    } else if (lower) {
      above = Math.min(above, share.getAsDouble());
    } else {
      below = Math.min(below, 1 - share.getAsDouble());
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

  private OptionalDouble shareAbove(Expression end) {
    if (!(end instanceof Literal literal) || literal.kind() == LiteralKind.NULL) {
      return OptionalDouble.empty();
    }
    TypeFamily family = facts.family(value);
    OptionalDouble place = ValueScale.place(literal.text(), family);
    OptionalDouble low = place(facts.stated(value).minimum(), family);
    OptionalDouble high = place(facts.stated(value).maximum(), family);
    if (place.isEmpty() || low.isEmpty() || high.isEmpty()) {
      return OptionalDouble.empty();
    }
    double width = high.getAsDouble() - low.getAsDouble();
    if (width <= 0) {
      return OptionalDouble.empty();
    }
    double share = (high.getAsDouble() - place.getAsDouble()) / width;
    return OptionalDouble.of(Math.max(0, Math.min(1, share)));
  }

  private static OptionalDouble place(Optional<String> text, TypeFamily family) {
    return text.isPresent() ? ValueScale.place(text.get(), family) : OptionalDouble.empty();
  }
}
