package dev.colonnade.statistics;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.Collection;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * Which share of a table's rows satisfies a condition.
 *
 * <p>Conditions are over columns of the table itself ({@link ColumnRef#SELF}); a column of another
 * table counts as a value that is known when the scan starts. Conjuncts are taken to be independent
 * (Selinger and others, SIGMOD 1979), except that all conditions that bind one value count once and
 * that equalities on columns of a stated group are taken together ({@link ColumnGroups}). Numbers
 * that exclude each other leave no row, which counts as one.
 *
 * <p>A share lies between 0 and 1. A further conjunct never raises it. It is no less than one row,
 * as PostgreSQL keeps it, until equalities complete a unique key; from then on further conjuncts
 * tell how often that one row qualifies. Its confidence is that of the weakest number that went
 * into it, the values of a completed key left out, since one row is left whatever they say.
 */
public final class SelectivityEstimator {
  private final ColumnFacts facts;

  /** An estimator for one table. */
  public SelectivityEstimator(Table table, TableStatistics statistics) {
    this.facts = new ColumnFacts(table, statistics);
  }

  SelectivityEstimator(ColumnFacts facts) {
    this.facts = facts;
  }

  /** Share of rows that satisfies the condition. */
  public Estimate of(Predicate condition) {
    return ofAll(List.of(condition));
  }

  /** Share of rows that satisfies all of the conditions; 1, declared, for none. */
  public Estimate ofAll(Collection<Predicate> conjuncts) {
    Set<Predicate> flat = new LinkedHashSet<>();
    conjuncts.forEach(conjunct -> flatten(conjunct, flat));
    Map<Expression, Group> groups = new LinkedHashMap<>();
    Estimate rest = Estimate.declared(1);
    for (Predicate conjunct : flat) {
      if (!bind(conjunct, groups)) {
        rest = rest.times(single(conjunct));
      }
    }
    return product(groups, rest).clamp(0, 1);
  }

  /**
   * Share of the pairs of rows of two tables that an equality between a column of each leaves: 1 by
   * the larger number of different values (Selinger and others, SIGMOD 1979).
   */
  public static Estimate join(Estimate distinctLeft, Estimate distinctRight) {
    double more = Math.max(1, Math.max(distinctLeft.value(), distinctRight.value()));
    return new Estimate(
        1 / more,
        distinctLeft.confidence().weaker(distinctRight.confidence()).weaker(Confidence.DERIVED));
  }

  private static void flatten(Predicate predicate, Set<Predicate> into) {
    if (predicate instanceof And and) {
      and.parts().forEach(part -> flatten(part, into));
    } else {
      into.add(predicate);
    }
  }

  private Estimate single(Predicate conjunct) {
    return conjunct.accept(new PredicateSelectivity(facts, this)).clamp(0, 1);
  }

  /** Adds the conjunct to the group of the value that it binds; false where it binds none. */
  private boolean bind(Predicate conjunct, Map<Expression, Group> groups) {
    if (conjunct instanceof Comparison comparison && bindsLeft(comparison)) {
      Group group = group(comparison.left(), groups);
      return switch (comparison.operator()) {
        case EQUAL ->
            group
                .points()
                .oneOf(List.of(comparison.right()))
                .equality(single(conjunct), /* toOneValue= */ true);
        case NULL_SAFE_EQUAL ->
            group
                .oneOf(List.of(comparison.right()))
                .equality(single(conjunct), comparison.right() instanceof Literal);
        case LESS, LESS_OR_EQUAL, GREATER, GREATER_OR_EQUAL ->
            group.range(comparison.operator(), comparison.right());
        case NOT_EQUAL, NULL_SAFE_NOT_EQUAL -> group.other(single(conjunct));
      };
    }
    if (conjunct instanceof InList list && Values.own(list.operand())) {
      Group group = group(list.operand(), groups).points();
      return (list.openEnded() ? group : group.oneOf(list.values()))
          .equality(single(conjunct), /* toOneValue= */ false);
    }
    if (conjunct instanceof NullTest test && Values.own(test.operand())) {
      Group group = group(test.operand(), groups);
      return test.negated() ? group.notNull(single(test)) : group.equality(single(test), false);
    }
    return false;
  }

  private static boolean bindsLeft(Comparison comparison) {
    return Values.own(comparison.left()) && !Values.own(comparison.right());
  }

  private Group group(Expression value, Map<Expression, Group> groups) {
    return groups.computeIfAbsent(value, v -> new Group(facts, v));
  }

  /**
   * The product over the values, but no less than one row; where equalities complete a unique key,
   * one row in place of the key's values.
   */
  private Estimate product(Map<Expression, Group> groups, Estimate rest) {
    Set<Identifier> completed = Set.of();
    for (Set<Identifier> key : facts.keys()) {
      if (completed.isEmpty() && isBound(key, groups)) {
        completed = key;
      }
    }
    Estimate oneRow =
        new Estimate(1 / Math.max(1, facts.rows().value()), facts.rows().confidence());
    Estimate result = completed.isEmpty() ? rest : rest.times(oneRow);
    Map<Identifier, Estimate> points = new LinkedHashMap<>();
    for (Map.Entry<Expression, Group> entry : groups.entrySet()) {
      if (!(entry.getKey() instanceof ColumnRef ref)) {
        result = result.times(entry.getValue().share());
      } else if (!completed.contains(ref.column())) {
        if (entry.getValue().isPoints()) {
          points.put(ref.column(), entry.getValue().share());
        } else {
          result = result.times(entry.getValue().share());
        }
      }
    }
    if (!points.isEmpty()) {
      result = result.times(new ColumnGroups(facts).share(points));
    }
    boolean less = completed.isEmpty() && result.value() < oneRow.value();
    return less
        ? new Estimate(oneRow.value(), result.confidence().weaker(oneRow.confidence()))
        : result;
  }

  private static boolean isBound(Set<Identifier> key, Map<Expression, Group> groups) {
    for (Identifier column : key) {
      Group group = groups.get(new ColumnRef(ColumnRef.SELF, column));
      if (group == null || !group.toOneValue()) {
        return false;
      }
    }
    return true;
  }

  /** Everything that the conjuncts say about one value. */
  private static final class Group {
    private final Expression value;
    private final ColumnFacts facts;
    private Estimate equality = Estimate.declared(1);
    private RangeSelectivity range;
    private Estimate others = Estimate.declared(1);
    private Estimate notNull = Estimate.declared(1);
    private boolean strict;
    private boolean oneValue;
    private boolean points;
    private Set<Double> numbers;

    Group(ColumnFacts facts, Expression value) {
      this.facts = facts;
      this.value = value;
    }

    boolean equality(Estimate share, boolean toOneValue) {
      equality = smaller(equality, share);
      oneValue |= toOneValue;
      strict = true;
      return true;
    }

    boolean range(ComparisonOperator operator, Expression end) {
      if (range == null) {
        range = new RangeSelectivity(facts, value);
      }
      range.add(operator, end);
      strict = true;
      return true;
    }

    boolean other(Estimate share) {
      others = others.times(share);
      return true;
    }

    boolean notNull(Estimate share) {
      notNull = share;
      return true;
    }

    /** An equality with a value, or with one of a list, follows. */
    Group points() {
      points = true;
      return this;
    }

    /**
     * The value is one of these, too. Numbers alone are held against each other: whether two texts
     * are the same hangs on the collation.
     */
    Group oneOf(List<Expression> sought) {
      Set<Double> named = new HashSet<>();
      for (Expression one : sought) {
        OptionalDouble number =
            one instanceof Literal literal && literal.kind() == LiteralKind.NUMBER
                ? ValueScale.place(literal.text(), TypeFamily.DECIMAL)
                : OptionalDouble.empty();
        if (number.isEmpty()) {
          return this;
        }
        named.add(number.getAsDouble());
      }
      if (numbers != null) {
        named.retainAll(numbers);
      }
      numbers = named;
      return this;
    }

    boolean isPoints() {
      return points;
    }

    boolean toOneValue() {
      return oneValue;
    }

    Estimate share() {
      Estimate bound = range == null ? equality : smaller(equality, range.share());
      bound = strict ? smaller(bound, notNull) : notNull;
      Estimate share = bound.times(others);
      boolean excluded = numbers != null && numbers.isEmpty();
      return excluded ? new Estimate(0, share.confidence()) : share;
    }

    private static Estimate smaller(Estimate left, Estimate right) {
      return new Estimate(
          Math.min(left.value(), right.value()), left.confidence().weaker(right.confidence()));
    }
  }
}
