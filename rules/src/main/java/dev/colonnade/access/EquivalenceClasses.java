package dev.colonnade.access;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.query.Conjunct;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;

/**
 * Columns and constants that the equalities of a block make equal: {@code a = b and b = 5} binds a
 * as well.
 *
 * <p>Only conditions that may restrict every table they name take part: the ON of an outer join
 * makes nothing equal on its preserved side.
 */
final class EquivalenceClasses {
  private final Map<ColumnRef, Set<Expression>> classes = new LinkedHashMap<>();
  private final Map<ColumnRef, Set<Expression>> own = new LinkedHashMap<>();
  private final Set<Conjunct> absorbed = new LinkedHashSet<>();

  /**
   * Collects the classes.
   *
   * @param sameType tells whether two columns hold values of one kind, so that equality carries
   *     over
   * @param ownColumns true when an equality of two columns of one table takes part
   */
  static EquivalenceClasses of(
      Collection<Conjunct> conjuncts,
      Set<Integer> blockUses,
      SameType sameType,
      boolean ownColumns) {
    EquivalenceClasses result = new EquivalenceClasses();
    for (Conjunct conjunct : conjuncts) {
      if (conjunct.predicate() instanceof Comparison comparison
          && comparison.operator() == ComparisonOperator.EQUAL
          && comparison.left() instanceof ColumnRef left
          && isMember(comparison.right())
          && restrictsAll(conjunct, blockUses)
          && (ownColumns || !isOfOneTable(left, comparison.right()))
          && (!(comparison.right() instanceof ColumnRef right) || sameType.test(left, right))) {
        result.join(left, comparison.right());
        result.absorbed.add(conjunct);
      }
    }
    return result;
  }

  /** Whether two columns hold values of one kind. */
  interface SameType {
    /** True when an equality of the two carries over to other members. */
    boolean test(ColumnRef left, ColumnRef right);
  }

  private static boolean isMember(Expression expression) {
    return expression instanceof ColumnRef
        || (expression.isConstant() && !Operands.isNull(expression));
  }

  private static boolean isOfOneTable(ColumnRef left, Expression right) {
    return right instanceof ColumnRef column && column.use() == left.use();
  }

  private static boolean restrictsAll(Conjunct conjunct, Set<Integer> blockUses) {
    return conjunct.predicate().columns().stream()
        .map(ColumnRef::use)
        .filter(blockUses::contains)
        .allMatch(use -> conjunct.restricts().contains(use));
  }

  private void join(ColumnRef left, Expression right) {
    Set<Expression> merged = new LinkedHashSet<>(classes.getOrDefault(left, Set.of(left)));
    if (right instanceof ColumnRef rightColumn) {
      merged.addAll(classes.getOrDefault(rightColumn, Set.of(rightColumn)));
      own.computeIfAbsent(left, column -> new LinkedHashSet<>()).add(right);
      own.computeIfAbsent(rightColumn, column -> new LinkedHashSet<>()).add(left);
    } else {
      merged.add(right);
      own.computeIfAbsent(left, column -> new LinkedHashSet<>()).add(right);
    }
    for (Expression member : merged) {
      if (member instanceof ColumnRef column) {
        classes.put(column, merged);
      }
    }
  }

  /** True when the conjunct's whole content lies in the classes. */
  boolean absorbs(Conjunct conjunct) {
    return absorbed.contains(conjunct);
  }

  /** Columns of one use that belong to a class, in order of appearance. */
  List<ColumnRef> columnsOf(int use) {
    return classes.keySet().stream().filter(column -> column.use() == use).toList();
  }

  /**
   * A value equal to the column that is known when the column's table is read: a constant rather
   * than another table's column.
   *
   * @param carried true when it may come through another column of the class
   */
  Optional<Expression> source(ColumnRef column, Predicate<ColumnRef> known, boolean carried) {
    Set<Expression> members = (carried ? classes : own).getOrDefault(column, Set.of());
    Optional<Expression> constant =
        members.stream()
            .filter(Expression::isConstant)
            .min(Comparator.comparing(Expression::render));
    if (constant.isPresent()) {
      return constant;
    }
    return members.stream()
        .filter(ColumnRef.class::isInstance)
        .map(ColumnRef.class::cast)
        .filter(other -> other.use() != column.use() && known.test(other))
        .min(Comparator.naturalOrder())
        .map(Expression.class::cast);
  }

  /** Constants, and known columns of other tables, that the column is written to equal. */
  List<Expression> written(ColumnRef column, Predicate<ColumnRef> known) {
    return own.getOrDefault(column, Set.of()).stream()
        .filter(
            it ->
                !(it instanceof ColumnRef other)
                    || (other.use() != column.use() && known.test(other)))
        .toList();
  }

  /** True when both are equal in every row of the block. */
  boolean areEqual(ColumnRef one, ColumnRef other) {
    return one.equals(other) || classes.getOrDefault(one, Set.of()).contains(other);
  }
}
