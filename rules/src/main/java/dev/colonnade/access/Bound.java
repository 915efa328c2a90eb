package dev.colonnade.access;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import java.util.List;

/**
 * What a query's conditions say about one value of a table: a column, or an expression over its
 * columns.
 *
 * @param value the column or expression; its columns belong to {@code SELF}
 * @param kind how the value is bound
 * @param origins the conditions that say so, as written in the query
 * @param points number of separate stretches of entries: values of an IN list, both sides of {@code
 *     <>}; 1 otherwise
 * @param fromJoin true when the value comes from another table of the join or from an enclosing
 *     block, so that the scan is repeated for each of its rows
 */
public record Bound(
    Expression value, Kind kind, List<Predicate> origins, int points, boolean fromJoin) {

  /** Copies the list. */
  public Bound {
    origins = List.copyOf(origins);
  }

  /** How a value is bound, strongest first. */
  public enum Kind {
    /** To one value. */
    EQUALITY,
    /** To NULL. */
    IS_NULL,
    /** To each of several values. */
    IN_LIST,
    /** From both sides. */
    CLOSED_RANGE,
    /** From one side. */
    OPEN_RANGE,
    /** By the fixed head of a LIKE pattern. */
    LIKE_PREFIX,
    /** To anything but NULL. */
    IS_NOT_NULL;

    /** True for the kinds after which the next key column can still bound the scan. */
    public boolean isPoint() {
      return switch (this) {
        case EQUALITY, IS_NULL, IN_LIST -> true;
        case CLOSED_RANGE, OPEN_RANGE, LIKE_PREFIX, IS_NOT_NULL -> false;
      };
    }
  }

  /** True for what lies between a value and the same value. */
  boolean hasEqualEnds() {
    List<Expression> upper = ends(ComparisonOperator.LESS_OR_EQUAL);
    return ends(ComparisonOperator.GREATER_OR_EQUAL).stream().anyMatch(upper::contains);
  }

  /** What the value is compared with by an operator. */
  private List<Expression> ends(ComparisonOperator operator) {
    return origins.stream()
        .filter(Comparison.class::isInstance)
        .map(Comparison.class::cast)
        .map(it -> it.left().equals(value) ? it : it.flipped())
        .filter(it -> it.operator() == operator)
        .map(Comparison::right)
        .toList();
  }

  /** True for a range that nothing but a lower end, or the head of a pattern, bounds. */
  boolean isLowerEnd() {
    return kind == Kind.LIKE_PREFIX
        || (kind == Kind.OPEN_RANGE && origins.stream().allMatch(this::isLowerEnd));
  }

  private boolean isLowerEnd(Predicate origin) {
    if (!(origin instanceof Comparison comparison)) {
      return false;
    }
    ComparisonOperator operator =
        comparison.left().equals(value) ? comparison.operator() : comparison.operator().flipped();
    return operator == ComparisonOperator.GREATER
        || operator == ComparisonOperator.GREATER_OR_EQUAL;
  }
}
