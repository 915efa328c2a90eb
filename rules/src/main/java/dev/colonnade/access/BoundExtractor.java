package dev.colonnade.access;

import dev.colonnade.access.Bound.Kind;
import dev.colonnade.dialect.BooleanRules;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.ListRules;
import dev.colonnade.dialect.Matching.NotNullPosition;
import dev.colonnade.dialect.Matching.RowBound;
import dev.colonnade.dialect.OrRules;
import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
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
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.SelectivityDefaults;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Reads from one condition which values of the table it binds, and how.
 *
 * <p>Safe direction: a condition that is not certain to bound a scan yields nothing.
 */
final class BoundExtractor implements Predicate.Visitor<List<Bound>> {
  /** Number of values assumed for an IN over the rows of a subquery. */
  static final int SUBQUERY_POINTS = 100;

  private final Operands operands;
  private final Dialect dialect;

  BoundExtractor(Operands operands, Dialect dialect) {
    this.operands = operands;
    this.dialect = dialect;
  }

  /** The bounds that all the conditions together put on the table's values, strongest first. */
  List<Bound> extract(List<Predicate> conditions) {
    List<Bound> all = new ArrayList<>();
    conditions.forEach(condition -> all.addAll(condition.accept(this)));
    return merge(all);
  }

  /**
   * Merges one-sided ranges on a value into a closed one and orders the bounds of each value by
   * strength.
   */
  private static List<Bound> merge(List<Bound> bounds) {
    Map<Expression, List<Bound>> byValue = new LinkedHashMap<>();
    bounds.forEach(b -> byValue.computeIfAbsent(b.value(), value -> new ArrayList<>()).add(b));
    List<Bound> result = new ArrayList<>();
    for (Map.Entry<Expression, List<Bound>> entry : byValue.entrySet()) {
      List<Bound> ofValue = new ArrayList<>(entry.getValue());
      List<Bound> open = ofValue.stream().filter(b -> b.kind() == Kind.OPEN_RANGE).toList();
      if (open.size() > 1) {
        Set<Predicate> origins = new LinkedHashSet<>();
        open.forEach(bound -> origins.addAll(bound.origins()));
        boolean closed = bothSides(entry.getKey(), origins);
        ofValue.removeAll(open);
        ofValue.add(
            new Bound(
                entry.getKey(),
                closed ? Kind.CLOSED_RANGE : Kind.OPEN_RANGE,
                List.copyOf(origins),
                1 + open.stream().mapToInt(bound -> bound.points() - 1).sum(),
                open.stream().anyMatch(Bound::fromJoin)));
      }
      ofValue.sort(java.util.Comparator.comparing(Bound::kind));
      result.addAll(ofValue);
    }
    return List.copyOf(result);
  }

  private static boolean bothSides(Expression value, Set<Predicate> origins) {
    boolean lower = false;
    boolean upper = false;
    for (Predicate origin : origins) {
      if (origin instanceof Comparison comparison) {
        ComparisonOperator operator =
            comparison.left().equals(value)
                ? comparison.operator()
                : comparison.operator().flipped();
        lower |=
            operator == ComparisonOperator.GREATER
                || operator == ComparisonOperator.GREATER_OR_EQUAL;
        upper |=
            operator == ComparisonOperator.LESS || operator == ComparisonOperator.LESS_OR_EQUAL;
      }
    }
    return lower && upper;
  }

  @Override
  public List<Bound> comparison(Comparison comparison) {
    List<Bound> result = new ArrayList<>();
    bind(comparison, comparison).ifPresent(result::add);
    bind(comparison.flipped(), comparison).ifPresent(result::add);
    return result;
  }

  private Optional<Bound> bind(Comparison sided, Predicate origin) {
    if (!operands.isOwn(sided.left()) || !operands.isForeign(sided.right())) {
      return Optional.empty();
    }
    if (Operands.isNull(sided.right())) {
      return sided.operator() == ComparisonOperator.NULL_SAFE_EQUAL
          ? nullBound(sided.left(), origin)
          : Optional.empty();
    }
    if (!operands.isComparable(sided.left(), sided.right())) {
      return Optional.empty();
    }
    boolean fromJoin = !sided.right().columns().isEmpty();
    return switch (sided.operator()) {
      case EQUAL -> Optional.of(bound(sided.left(), Kind.EQUALITY, origin, fromJoin));
      case NULL_SAFE_EQUAL ->
          dialect.matching().nullSafeEquality().value()
              ? Optional.of(bound(sided.left(), Kind.EQUALITY, origin, fromJoin))
              : Optional.empty();
      case LESS, LESS_OR_EQUAL, GREATER, GREATER_OR_EQUAL ->
          Optional.of(bound(sided.left(), Kind.OPEN_RANGE, origin, fromJoin));
      case NOT_EQUAL -> notEqual(sided, origin, fromJoin);
      case NULL_SAFE_NOT_EQUAL -> Optional.empty();
    };
  }

  private Optional<Bound> notEqual(Comparison sided, Predicate origin, boolean fromJoin) {
    boolean otherTruth =
        BooleanRules.of(dialect).notEqual().value()
            && isBoolean(sided.left())
            && sided.right() instanceof Literal literal
            && literal.kind() == LiteralKind.BOOLEAN;
    if (otherTruth) {
      return Optional.of(bound(sided.left(), Kind.EQUALITY, origin, fromJoin));
    }
    return dialect.matching().notEqual().value()
        ? Optional.of(new Bound(sided.left(), Kind.OPEN_RANGE, List.of(origin), 2, fromJoin))
        : Optional.empty();
  }

  private boolean isBoolean(Expression value) {
    return operands.family(value).map(family -> family == TypeFamily.BOOLEAN).orElse(false);
  }

  private static Bound bound(Expression value, Kind kind, Predicate origin, boolean fromJoin) {
    return new Bound(value, kind, List.of(origin), 1, fromJoin);
  }

  @Override
  public List<Bound> inList(InList in) {
    Optional<Predicate> single =
        SingleValues.equality(in, ListRules.of(dialect).singleValue().value());
    if (single.isPresent()) {
      return single.get().accept(this);
    }
    boolean usable =
        operands.isOwn(in.operand())
            && in.values().stream()
                .allMatch(
                    value ->
                        operands.isForeign(value) && operands.isComparable(in.operand(), value));
    if (!usable) {
      return List.of();
    }
    boolean fromJoin = in.values().stream().anyMatch(value -> !value.columns().isEmpty());
    return List.of(new Bound(in.operand(), Kind.IN_LIST, List.of(in), points(in), fromJoin));
  }

  private static int points(InList in) {
    return in.openEnded()
        ? Math.max(SelectivityDefaults.LIST_LENGTH, in.values().size())
        : in.values().size();
  }

  @Override
  public List<Bound> inSubquery(InSubquery in) {
    if (in.operands().size() != 1
        || !in.correlated().isEmpty()
        || !operands.isOwn(in.operands().get(0))) {
      return List.of();
    }
    return List.of(
        new Bound(in.operands().get(0), Kind.IN_LIST, List.of(in), SUBQUERY_POINTS, true));
  }

  /** Only the first value of the row is bound by itself; the matcher looks at the whole row. */
  @Override
  public List<Bound> rowComparison(RowComparison row) {
    if (dialect.matching().rowComparison().value() == RowBound.NONE
        || !row.left().stream().allMatch(operands::isOwn)
        || !row.right().stream().allMatch(operands::isForeign)) {
      return List.of();
    }
    boolean fromJoin = row.right().stream().anyMatch(value -> !value.columns().isEmpty());
    return List.of(bound(row.left().get(0), Kind.OPEN_RANGE, row, fromJoin));
  }

  @Override
  public List<Bound> rowInList(RowInList in) {
    boolean usable =
        dialect.matching().rowInList().value()
            && in.operands().stream().allMatch(operands::isOwn)
            && in.rows().stream().allMatch(row -> row.stream().allMatch(operands::isForeign));
    if (!usable) {
      return List.of();
    }
    return in.operands().stream()
        .map(value -> new Bound(value, Kind.IN_LIST, List.of(in), in.rows().size(), false))
        .toList();
  }

  @Override
  public List<Bound> nullTest(NullTest test) {
    if (!operands.isOwn(test.operand())) {
      return List.of();
    }
    if (test.negated()) {
      boolean bounds =
          dialect.matching().isNotNull().value() != NotNullPosition.NONE
              && operands.isNullable(test.operand());
      return bounds ? List.of(bound(test.operand(), Kind.IS_NOT_NULL, test, false)) : List.of();
    }
    return nullBound(test.operand(), test).stream().toList();
  }

  private Optional<Bound> nullBound(Expression value, Predicate origin) {
    return dialect.matching().isNull().value()
        ? Optional.of(bound(value, Kind.IS_NULL, origin, false))
        : Optional.empty();
  }

  /** Whether the collation lets the head of the pattern bound a scan is for the matcher to say. */
  @Override
  public List<Bound> like(Like like) {
    boolean usable =
        operands.isOwn(like.operand())
            && !like.caseInsensitive()
            && like.literalPrefix().filter(head -> !head.isEmpty()).isPresent()
            && operands
                .family(like.operand())
                .map(family -> family == TypeFamily.TEXT)
                .orElse(true);
    return usable ? List.of(bound(like.operand(), Kind.LIKE_PREFIX, like, false)) : List.of();
  }

  @Override
  public List<Bound> truthTest(TruthTest test) {
    boolean usable =
        isSought(test, dialect) && operands.isOwn(test.operand()) && isBoolean(test.operand());
    return usable ? List.of(bound(test.operand(), Kind.EQUALITY, test, false)) : List.of();
  }

  /** True where a test of a boolean column is one for a single value. */
  static boolean isSought(TruthTest test, Dialect dialect) {
    return dialect.matching().truthTest().value()
        && !test.matchesNull()
        && (!test.expected() || dialect.matching().bareTruthTest().value());
  }

  /**
   * A value bound in every branch of an OR is bound by the whole, where the database derives that.
   */
  @Override
  public List<Bound> or(Or or) {
    if (!dialect.matching().orRanges().value()) {
      return OrRules.of(dialect).comparisonsUnited().value()
          ? UnitedComparisons.of(or).stream()
              .flatMap(it -> bind(it, or).or(() -> bind(it.flipped(), or)).stream())
              .toList()
          : List.of();
    }
    Map<Expression, Bound> common = null;
    for (Predicate branch : or.parts()) {
      Map<Expression, Bound> ofBranch = new LinkedHashMap<>();
      for (Bound bound : extract(Conditions.conjuncts(branch))) {
        ofBranch.putIfAbsent(bound.value(), bound);
      }
      if (common == null) {
        common = ofBranch;
      } else {
        Map<Expression, Bound> both = new LinkedHashMap<>();
        common.forEach(
            (value, bound) -> {
              Bound other = ofBranch.get(value);
              if (other != null) {
                both.put(value, union(value, bound, other, or));
              }
            });
        common = both;
      }
    }
    return common == null ? List.of() : List.copyOf(common.values());
  }

  private static Bound union(Expression value, Bound one, Bound other, Or origin) {
    boolean points = one.kind().isPoint() && other.kind().isPoint();
    return new Bound(
        value,
        points ? Kind.IN_LIST : Kind.OPEN_RANGE,
        List.of(origin),
        points ? one.points() + other.points() : 1,
        one.fromJoin() || other.fromJoin());
  }

  @Override
  public List<Bound> and(And and) {
    List<Bound> result = new ArrayList<>();
    and.parts().forEach(part -> result.addAll(part.accept(this)));
    return result;
  }

  /** All but the values of a list, where the database reads what lies between them. */
  @Override
  public List<Bound> not(Not not) {
    boolean between =
        dialect.matching().notEqual().value()
            && not.part() instanceof InList in
            && operands.isOwn(in.operand())
            && in.values().stream()
                .allMatch(
                    value ->
                        operands.isForeign(value)
                            && operands.isComparable(in.operand(), value)
                            && value.columns().isEmpty());
    if (!between) {
      return List.of();
    }
    InList in = (InList) not.part();
    return List.of(new Bound(in.operand(), Kind.OPEN_RANGE, List.of(not), points(in) + 1, false));
  }

  @Override
  public List<Bound> exists(Exists exists) {
    return List.of();
  }

  @Override
  public List<Bound> opaque(OpaquePredicate opaque) {
    return List.of();
  }
}
