package dev.colonnade.query.mapper;

import java.util.Objects;
import java.util.Optional;

/** A comparison in a test. */
record Comparison(Operator operator, Value left, Value right, String text) {
  /** How two values are compared. */
  enum Operator {
    EQUAL,
    NOT_EQUAL,
    LESS,
    LESS_OR_EQUAL,
    GREATER,
    GREATER_OR_EQUAL;

    Operator negated() {
      return switch (this) {
        case EQUAL -> NOT_EQUAL;
        case NOT_EQUAL -> EQUAL;
        case LESS -> GREATER_OR_EQUAL;
        case LESS_OR_EQUAL -> GREATER;
        case GREATER -> LESS_OR_EQUAL;
        case GREATER_OR_EQUAL -> LESS;
      };
    }

    /** The operator when the sides change places. */
    Operator flipped() {
      return switch (this) {
        case EQUAL, NOT_EQUAL -> this;
        case LESS -> GREATER;
        case LESS_OR_EQUAL -> GREATER_OR_EQUAL;
        case GREATER -> LESS;
        case GREATER_OR_EQUAL -> LESS_OR_EQUAL;
      };
    }

    private boolean holds(int order) {
      return switch (this) {
        case EQUAL -> order == 0;
        case NOT_EQUAL -> order != 0;
        case LESS -> order < 0;
        case LESS_OR_EQUAL -> order <= 0;
        case GREATER -> order > 0;
        case GREATER_OR_EQUAL -> order >= 0;
      };
    }
  }

  /** The same with the constant, where there is one, on the right. */
  Comparison constantRight() {
    return left instanceof Value.Known && !(right instanceof Value.Known)
        ? new Comparison(operator.flipped(), /* left= */ right, /* right= */ left, text)
        : this;
  }

  /**
   * The property of a list's element that is asked which of several constants it is. It is one of
   * them: the text between would otherwise lack a part.
   */
  Optional<String> choice() {
    return (operator == Operator.EQUAL || operator == Operator.NOT_EQUAL)
            && left instanceof Value.Ref ref
            && isOfElement(ref.path())
            && right instanceof Value.Known known
            && known.object() instanceof String constant
            && !constant.isEmpty()
        ? Optional.of(ref.path())
        : Optional.empty();
  }

  static boolean isOfElement(String path) {
    return path.contains("[].");
  }

  /** Whether two constants compare so. */
  static boolean holds(Operator operator, Object left, Object right) {
    if (left == null || right == null) {
      boolean equal = Objects.equals(left, right);
      return operator == Operator.EQUAL ? equal : operator == Operator.NOT_EQUAL && !equal;
    }
    if (left instanceof Number a && right instanceof Number b) {
      return operator.holds(Double.compare(a.doubleValue(), b.doubleValue()));
    }
    return operator.holds(left.toString().compareTo(right.toString()));
  }

  /** A constant that compares so with another; the other itself where there is no order. */
  static Object witness(Operator operator, Object other) {
    if (!(other instanceof Number number)) {
      return other;
    }
    return switch (operator) {
      case EQUAL, LESS_OR_EQUAL, GREATER_OR_EQUAL -> number.intValue();
      case LESS -> number.intValue() - 1;
      case GREATER, NOT_EQUAL -> number.intValue() + 1;
    };
  }
}
