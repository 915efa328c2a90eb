package dev.colonnade.predicate;

import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
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
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.UnaryOperator;

/**
 * Rewrites conditions into the one form that the analysis reads: a list of conjuncts without NOT in
 * front of anything that can take it in, columns on the left of constants, equal-column ORs as IN
 * lists. Every rewrite keeps the rows that qualify; none applies algebra to values.
 */
public final class Conditions {
  private Conditions() {}

  /**
   * The conjuncts of a condition, without repetition and without those that are always true; every
   * row must satisfy each.
   */
  public static List<Predicate> conjuncts(Predicate condition) {
    Set<Predicate> result = new LinkedHashSet<>();
    flatten(normalize(condition), result);
    return List.copyOf(result);
  }

  private static void flatten(Predicate predicate, Set<Predicate> into) {
    if (predicate instanceof And and) {
      and.parts().forEach(part -> flatten(part, into));
    } else if (!isAlwaysTrue(predicate)) {
      into.add(predicate);
    }
  }

  /** {@code 1 = 1} and {@code true}, which programs put in front of conditions that they append. */
  private static boolean isAlwaysTrue(Predicate predicate) {
    if (predicate instanceof TruthTest test) {
      return test.operand() instanceof Literal literal
          && literal.kind() == LiteralKind.BOOLEAN
          && literal.text().equals(Boolean.toString(test.expected()));
    }
    return predicate instanceof Comparison comparison
        && comparison.operator() == ComparisonOperator.EQUAL
        && comparison.left() instanceof Literal literal
        && literal.kind() != LiteralKind.NULL
        && literal.equals(comparison.right());
  }

  /** The condition in normal form, as one predicate. */
  public static Predicate normalize(Predicate predicate) {
    return predicate.accept(new Normalizer());
  }

  /** The condition that holds exactly where the given one is false, in normal form. */
  public static Predicate negate(Predicate predicate) {
    return predicate.accept(new Negator());
  }

  /** The condition with each column reference replaced. */
  public static Predicate map(Predicate predicate, UnaryOperator<ColumnRef> replacement) {
    return predicate.accept(PredicateMapper.ofColumns(replacement));
  }

  /** The condition with each of its operands replaced. */
  public static Predicate mapValues(Predicate predicate, UnaryOperator<Expression> replacement) {
    return predicate.accept(new PredicateMapper(replacement, column -> column));
  }

  static Predicate oriented(Comparison comparison) {
    boolean leftConstant = comparison.left().isConstant();
    boolean rightConstant = comparison.right().isConstant();
    if (leftConstant && !rightConstant) {
      return comparison.flipped();
    }
    boolean leftColumn = comparison.left() instanceof ColumnRef;
    boolean rightColumn = comparison.right() instanceof ColumnRef;
    return rightColumn && !leftColumn && !rightConstant ? comparison.flipped() : comparison;
  }

  private static Predicate rowEquality(RowComparison row, ComparisonOperator operator) {
    List<Predicate> parts = new ArrayList<>();
    for (int i = 0; i < row.left().size(); i++) {
      parts.add(oriented(new Comparison(row.left().get(i), operator, row.right().get(i))));
    }
    return new And(parts);
  }

  private static Predicate and(List<Predicate> parts) {
    Set<Predicate> flat = new LinkedHashSet<>();
    parts.forEach(part -> flatten(part, flat));
    return flat.size() == 1 ? flat.iterator().next() : new And(List.copyOf(flat));
  }

  /** Brings a condition into normal form. */
  private static final class Normalizer implements Predicate.Visitor<Predicate> {
    @Override
    public Predicate comparison(Comparison comparison) {
      return oriented(comparison);
    }

    @Override
    public Predicate inList(InList inList) {
      return EqualityLists.simplify(inList);
    }

    @Override
    public Predicate inSubquery(InSubquery inSubquery) {
      return inSubquery;
    }

    @Override
    public Predicate rowComparison(RowComparison row) {
      return switch (row.operator()) {
        case EQUAL, NULL_SAFE_EQUAL -> rowEquality(row, row.operator());
        case NOT_EQUAL, NULL_SAFE_NOT_EQUAL -> new Not(rowEquality(row, row.operator().negated()));
        case LESS, LESS_OR_EQUAL, GREATER, GREATER_OR_EQUAL -> {
          boolean flip =
              row.left().stream().allMatch(Expression::isConstant)
                  && row.right().stream().noneMatch(Expression::isConstant);
          yield flip
              ? new RowComparison(
                  /* left= */ row.right(), row.operator().flipped(), /* right= */ row.left())
              : row;
        }
      };
    }

    @Override
    public Predicate rowInList(RowInList in) {
      if (in.rows().size() == 1) {
        return rowEquality(
            new RowComparison(in.operands(), ComparisonOperator.EQUAL, in.rows().get(0)),
            ComparisonOperator.EQUAL);
      }
      return in;
    }

    @Override
    public Predicate nullTest(NullTest nullTest) {
      return nullTest;
    }

    @Override
    public Predicate like(Like like) {
      return like;
    }

    @Override
    public Predicate truthTest(TruthTest truthTest) {
      return truthTest;
    }

    @Override
    public Predicate exists(Exists exists) {
      return exists;
    }

    @Override
    public Predicate and(And and) {
      return Conditions.and(and.parts().stream().map(Conditions::normalize).toList());
    }

    @Override
    public Predicate or(Or or) {
      return EqualityLists.or(or.parts().stream().map(Conditions::normalize).toList());
    }

    @Override
    public Predicate not(Not not) {
      return negate(not.part());
    }

    @Override
    public Predicate opaque(OpaquePredicate opaque) {
      return opaque;
    }
  }

  /** Pushes a NOT inwards as far as it goes (De Morgan). */
  private static final class Negator implements Predicate.Visitor<Predicate> {
    @Override
    public Predicate comparison(Comparison comparison) {
      return oriented(
          new Comparison(comparison.left(), comparison.operator().negated(), comparison.right()));
    }

    @Override
    public Predicate inList(InList inList) {
      return EqualityLists.single(inList, true).map(Conditions::negate).orElse(new Not(inList));
    }

    @Override
    public Predicate inSubquery(InSubquery inSubquery) {
      return new Not(inSubquery);
    }

    @Override
    public Predicate rowComparison(RowComparison row) {
      return switch (row.operator()) {
        case EQUAL, NULL_SAFE_EQUAL -> new Not(rowEquality(row, row.operator()));
        case NOT_EQUAL, NULL_SAFE_NOT_EQUAL -> rowEquality(row, row.operator().negated());
        case LESS, LESS_OR_EQUAL, GREATER, GREATER_OR_EQUAL ->
            normalize(new RowComparison(row.left(), row.operator().negated(), row.right()));
      };
    }

    @Override
    public Predicate rowInList(RowInList rowInList) {
      return new Not(rowInList);
    }

    @Override
    public Predicate nullTest(NullTest nullTest) {
      return new NullTest(nullTest.operand(), !nullTest.negated());
    }

    @Override
    public Predicate like(Like like) {
      return new Not(like);
    }

    @Override
    public Predicate truthTest(TruthTest test) {
      return new TruthTest(test.operand(), !test.expected(), false);
    }

    @Override
    public Predicate exists(Exists exists) {
      return new Not(exists);
    }

    @Override
    public Predicate and(And and) {
      return EqualityLists.or(and.parts().stream().map(Conditions::negate).toList());
    }

    @Override
    public Predicate or(Or or) {
      return Conditions.and(or.parts().stream().map(Conditions::negate).toList());
    }

    @Override
    public Predicate not(Not not) {
      return normalize(not.part());
    }

    @Override
    public Predicate opaque(OpaquePredicate opaque) {
      return new Not(opaque);
    }
  }
}
