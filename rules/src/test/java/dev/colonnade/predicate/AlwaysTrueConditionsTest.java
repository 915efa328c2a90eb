package dev.colonnade.predicate;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Expression.Parameter;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.TruthTest;
import java.util.List;
import org.junit.jupiter.api.Test;

class AlwaysTrueConditionsTest {
  private static final Expression ONE = new Literal("1", LiteralKind.NUMBER);
  private static final Expression NULL = new Literal("", LiteralKind.NULL);
  private static final Predicate BERTH_FREE = equal(ColumnRef.self("free"), ONE);

  private static Predicate equal(Expression left, Expression right) {
    return new Comparison(left, ComparisonOperator.EQUAL, right);
  }

  @Test
  void a_condition_that_is_always_true_is_left_out() {
    Predicate isTrue = new TruthTest(new Literal("true", LiteralKind.BOOLEAN), true, false);
    assertThat(Conditions.conjuncts(new And(List.of(equal(ONE, ONE), BERTH_FREE, isTrue))))
        .containsExactly(BERTH_FREE);
  }

  @Test
  void others_stay() {
    Predicate isFalse = new TruthTest(new Literal("false", LiteralKind.BOOLEAN), true, false);
    Predicate differs = equal(ONE, new Literal("2", LiteralKind.NUMBER));
    Predicate unknown = equal(NULL, NULL);
    assertThat(Conditions.conjuncts(new And(List.of(isFalse, differs, unknown))))
        .containsExactly(isFalse, differs, unknown);
  }

  @Test
  void a_test_of_a_parameter_stays_a_comparison_inside_an_or() {
    Predicate empty = equal(new Parameter(":flag"), new Literal("", LiteralKind.TEXT));
    assertThat(Conditions.conjuncts(new Or(List.of(empty, BERTH_FREE))))
        .containsExactly(new Or(List.of(empty, BERTH_FREE)));
  }
}
