package dev.colonnade.query;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
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
import java.util.List;
import java.util.Set;

/**
 * Says for which tables a condition cannot be true on a row of NULLs. Safe direction: a use is left
 * out unless rejection is certain on all supported databases.
 */
public final class NullRejection implements Predicate.Visitor<Set<Integer>> {
  /**
   * Functions and operators that yield NULL for a NULL argument on every supported database. Not
   * among them: {@code ||}, which Oracle reads with NULL as empty string; {@code concat}, {@code
   * coalesce} and their like.
   */
  private static final Set<String> STRICT =
      Set.of(
          "+",
          "-",
          "*",
          "/",
          "%",
          "lower",
          "upper",
          "abs",
          "length",
          "char_length",
          "trim",
          "ltrim",
          "rtrim",
          "round",
          "floor",
          "ceil",
          "ceiling",
          "substring",
          "substr",
          "date",
          "year",
          "month",
          "day",
          "date_trunc",
          "trunc",
          "at time zone");

  private NullRejection() {}

  /** Uses of which a row of NULLs cannot satisfy the condition, which must be normalized. */
  public static Set<Integer> rejectedBy(Predicate predicate) {
    return predicate.accept(new NullRejection());
  }

  /** Uses whose NULLs make the value NULL. */
  private static Set<Integer> strict(Expression expression) {
    if (expression instanceof ColumnRef column) {
      return Set.of(column.use());
    }
    if (expression instanceof Call call && isStrict(call.name())) {
      return strict(call.arguments());
    }
    return Set.of();
  }

  private static Set<Integer> strict(List<Expression> expressions) {
    Set<Integer> uses = new HashSet<>();
    expressions.forEach(expression -> uses.addAll(strict(expression)));
    return uses;
  }

  private static boolean isStrict(String name) {
    return STRICT.contains(name)
        || name.startsWith("cast ")
        || name.startsWith("collate ")
        || name.startsWith("extract ")
        || name.startsWith("trim ");
  }

  @Override
  public Set<Integer> comparison(Comparison comparison) {
    if (comparison.operator() == ComparisonOperator.NULL_SAFE_EQUAL
        || comparison.operator() == ComparisonOperator.NULL_SAFE_NOT_EQUAL) {
      return Set.of();
    }
    return strict(List.of(comparison.left(), comparison.right()));
  }

  @Override
  public Set<Integer> inList(InList inList) {
    return strict(inList.operand());
  }

  @Override
  public Set<Integer> inSubquery(InSubquery inSubquery) {
    return strict(inSubquery.operands());
  }

  /** Only the first members are certain: {@code (2, null) > (1, 1)} is true. */
  @Override
  public Set<Integer> rowComparison(RowComparison row) {
    return strict(List.of(row.left().get(0), row.right().get(0)));
  }

  @Override
  public Set<Integer> rowInList(RowInList rowInList) {
    return strict(rowInList.operands());
  }

  @Override
  public Set<Integer> nullTest(NullTest nullTest) {
    return nullTest.negated() ? strict(nullTest.operand()) : Set.of();
  }

  @Override
  public Set<Integer> like(Like like) {
    return strict(List.of(like.operand(), like.pattern()));
  }

  @Override
  public Set<Integer> truthTest(TruthTest truthTest) {
    return truthTest.matchesNull() ? Set.of() : strict(truthTest.operand());
  }

  @Override
  public Set<Integer> exists(Exists exists) {
    return Set.of();
  }

  @Override
  public Set<Integer> and(And and) {
    Set<Integer> uses = new HashSet<>();
    and.parts().forEach(part -> uses.addAll(rejectedBy(part)));
    return uses;
  }

  @Override
  public Set<Integer> or(Or or) {
    Set<Integer> uses = new HashSet<>(rejectedBy(or.parts().get(0)));
    or.parts().forEach(part -> uses.retainAll(rejectedBy(part)));
    return uses;
  }

  /**
   * NOT of an unknown truth value is unknown: a NULL operand of IN or LIKE is rejected all the
   * same. NOT IN of a subquery without rows is true even for NULL.
   */
  @Override
  public Set<Integer> not(Not not) {
    return not.part() instanceof InList || not.part() instanceof Like
        ? rejectedBy(not.part())
        : Set.of();
  }

  @Override
  public Set<Integer> opaque(OpaquePredicate opaque) {
    return Set.of();
  }
}
