package dev.colonnade.query;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Exists;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.Not;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.RowComparison;
import dev.colonnade.predicate.Predicate.TruthTest;
import dev.colonnade.query.JoinTree.Join;
import dev.colonnade.query.JoinTree.Kind;
import dev.colonnade.query.JoinTree.Leaf;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

class JoinsTest {
  private static final Expression FIVE = new Literal("5", LiteralKind.NUMBER);
  private static final JoinTree VESSEL = new Leaf(1);
  private static final JoinTree BOOKING = new Leaf(2);
  private static final JoinTree INVOICE = new Leaf(3);

  private static Expression column(int use) {
    return new ColumnRef(use, Identifier.of("x"));
  }

  private static Predicate equal(Expression left, Expression right) {
    return new Comparison(left, ComparisonOperator.EQUAL, right);
  }

  private static final Predicate ON_12 = equal(column(1), column(2));
  private static final Predicate ON_23 = equal(column(2), column(3));

  private static Join left(JoinTree left, JoinTree right, Predicate... on) {
    return new Join(Kind.LEFT, left, right, List.of(on));
  }

  private static Join inner(JoinTree left, JoinTree right, Predicate... on) {
    return new Join(Kind.INNER, left, right, List.of(on));
  }

  private static Set<Integer> rejected(Predicate predicate) {
    return NullRejection.rejectedBy(Conditions.normalize(predicate));
  }

  @Test
  void a_comparison_rejects_nulls_on_both_sides() {
    assertThat(rejected(equal(column(1), FIVE))).containsExactly(1);
    assertThat(rejected(ON_12)).containsExactlyInAnyOrder(1, 2);
    assertThat(rejected(new Comparison(column(1), ComparisonOperator.NULL_SAFE_EQUAL, FIVE)))
        .isEmpty();
    assertThat(rejected(new Comparison(column(1), ComparisonOperator.NULL_SAFE_NOT_EQUAL, FIVE)))
        .isEmpty();
  }

  @Test
  void only_strict_functions_pass_nulls_on() {
    assertThat(rejected(equal(new Call("lower", List.of(column(1)), true), FIVE)))
        .containsExactly(1);
    assertThat(rejected(equal(new Call("cast text", List.of(column(1)), true), FIVE)))
        .containsExactly(1);
    assertThat(rejected(equal(new Call("coalesce", List.of(column(1), FIVE), true), FIVE)))
        .isEmpty();
    // Oracle: NULL || 'x' is 'x'.
    assertThat(rejected(equal(new Call("||", List.of(column(1), FIVE), true), FIVE))).isEmpty();
  }

  @Test
  void lists_patterns_and_tests() {
    Predicate in = new InList(column(1), List.of(FIVE, column(2)), false);
    Predicate like = new Like(column(1), FIVE, Like.Wildcards.LIKE, false, Optional.empty());
    assertThat(rejected(in)).containsExactly(1);
    assertThat(rejected(new Not(in))).containsExactly(1);
    assertThat(rejected(like)).containsExactly(1);
    assertThat(rejected(new Not(like))).containsExactly(1);
    assertThat(rejected(new NullTest(column(1), true))).containsExactly(1);
    assertThat(rejected(new NullTest(column(1), false))).isEmpty();
    assertThat(rejected(new Not(new NullTest(column(1), false)))).containsExactly(1);
    assertThat(rejected(new TruthTest(column(1), true, false))).containsExactly(1);
    assertThat(rejected(new TruthTest(column(1), false, true))).isEmpty();
  }

  @Test
  void subqueries() {
    Predicate in = new InSubquery(List.of(column(1)), 2, Set.of());
    assertThat(rejected(in)).containsExactly(1);
    // True for NULL when the subquery has no rows.
    assertThat(rejected(new Not(in))).isEmpty();
    assertThat(rejected(new Exists(2, Set.of(new ColumnRef(1, Identifier.of("x")))))).isEmpty();
  }

  @Test
  void an_or_rejects_what_each_branch_rejects() {
    Predicate both = new Or(List.of(equal(column(1), FIVE), ON_12));
    assertThat(rejected(both)).containsExactly(1);
    assertThat(rejected(new Or(List.of(ON_12, new NullTest(column(1), false))))).isEmpty();
    assertThat(rejected(new And(List.of(ON_12, new NullTest(column(3), true)))))
        .containsExactlyInAnyOrder(1, 2, 3);
  }

  /** {@code (2, null) > (1, 1)} is true: SQL:2016 part 2, 8.2, general rules on rows. */
  @Test
  void a_row_comparison_is_certain_of_its_first_members_only() {
    assertThat(
            rejected(
                new RowComparison(
                    List.of(column(1), column(2)),
                    ComparisonOperator.GREATER,
                    List.of(FIVE, FIVE))))
        .containsExactly(1);
  }

  @Test
  void a_left_join_stays_without_rejection() {
    Join join = left(VESSEL, BOOKING, ON_12);
    assertThat(Joins.reduce(join, List.of(equal(column(1), FIVE)))).isEqualTo(join);
    assertThat(Joins.reduce(join, List.of(new NullTest(column(2), false)))).isEqualTo(join);
  }

  @Test
  void a_rejecting_condition_makes_it_inner() {
    assertThat(Joins.reduce(left(VESSEL, BOOKING, ON_12), List.of(equal(column(2), FIVE))))
        .isEqualTo(inner(VESSEL, BOOKING, ON_12));
  }

  @Test
  void an_inner_join_above_rejects_as_well() {
    assertThat(Joins.reduce(inner(left(VESSEL, BOOKING, ON_12), INVOICE, ON_23), List.of()))
        .isEqualTo(inner(inner(VESSEL, BOOKING, ON_12), INVOICE, ON_23));
  }

  @Test
  void rejection_goes_on_from_a_reduced_join_to_the_one_below() {
    assertThat(
            Joins.reduce(
                left(left(VESSEL, BOOKING, ON_12), INVOICE, ON_23),
                List.of(equal(column(3), FIVE))))
        .isEqualTo(inner(inner(VESSEL, BOOKING, ON_12), INVOICE, ON_23));
  }

  /** The ON of a left join says nothing of its left side. */
  @Test
  void the_condition_of_a_left_join_does_not_reject_on_its_left() {
    Join join = left(left(VESSEL, BOOKING, ON_12), INVOICE, ON_23);
    assertThat(Joins.reduce(join, List.of())).isEqualTo(join);
  }

  @Test
  void the_condition_of_a_left_join_rejects_inside_its_right_side() {
    assertThat(Joins.reduce(left(VESSEL, left(INVOICE, BOOKING, ON_23), ON_12), List.of()))
        .isEqualTo(left(VESSEL, inner(INVOICE, BOOKING, ON_23), ON_12));
  }

  @Test
  void a_full_join_loses_the_rejected_sides() {
    Join full = new Join(Kind.FULL, VESSEL, BOOKING, List.of(ON_12));
    Predicate ofVessel = equal(column(1), FIVE);
    Predicate ofBooking = equal(column(2), FIVE);
    assertThat(Joins.reduce(full, List.of())).isEqualTo(full);
    assertThat(Joins.reduce(full, List.of(ofVessel))).isEqualTo(left(VESSEL, BOOKING, ON_12));
    assertThat(Joins.reduce(full, List.of(ofBooking))).isEqualTo(left(BOOKING, VESSEL, ON_12));
    assertThat(Joins.reduce(full, List.of(ofVessel, ofBooking)))
        .isEqualTo(inner(VESSEL, BOOKING, ON_12));
  }

  @Test
  void places_conditions_and_orders() {
    Predicate anti = new NullTest(column(3), false);
    Joins joins =
        Joins.of(
            left(left(VESSEL, BOOKING, ON_12), INVOICE, ON_23),
            List.of(equal(column(1), FIVE), anti));
    assertThat(joins.nullSupplied()).containsExactly(2, 3);
    assertThat(joins.after())
        .containsEntry(1, Set.of())
        .containsEntry(2, Set.of(1))
        .containsEntry(3, Set.of(2));
    assertThat(joins.conjuncts())
        .containsExactly(
            new Conjunct(ON_12, Set.of(2)),
            new Conjunct(ON_23, Set.of(3)),
            new Conjunct(equal(column(1), FIVE), Set.of(1)),
            new Conjunct(anti, Set.of()));
  }

  @Test
  void a_left_join_without_condition_on_the_left_follows_all_of_it() {
    Joins joins =
        Joins.of(left(inner(VESSEL, BOOKING), INVOICE, equal(column(3), FIVE)), List.of());
    assertThat(joins.after()).containsEntry(3, Set.of(1, 2));
  }
}
