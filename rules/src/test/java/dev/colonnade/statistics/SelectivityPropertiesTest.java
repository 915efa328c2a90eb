package dev.colonnade.statistics;

import static dev.colonnade.statistics.StatisticsFixture.PARAMETER;
import static dev.colonnade.statistics.StatisticsFixture.between;
import static dev.colonnade.statistics.StatisticsFixture.bookings;
import static dev.colonnade.statistics.StatisticsFixture.column;
import static dev.colonnade.statistics.StatisticsFixture.index;
import static dev.colonnade.statistics.StatisticsFixture.nulls;
import static dev.colonnade.statistics.StatisticsFixture.number;
import static dev.colonnade.statistics.StatisticsFixture.rows;
import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.Not;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.TruthTest;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** What holds for every condition, on conditions made up from a seed. */
class SelectivityPropertiesTest {
  private static final long SEED = 5_417;
  private static final int CASES = 3_000;
  private static final String[] COLUMNS = {
    "id", "berth", "vessel", "arrival", "status", "paid", "remarks"
  };

  private final Random random = new Random(SEED);

  @Test
  void shares_lie_between_0_and_1_and_a_further_condition_never_raises_them() {
    Table table = bookings(index("once", true, "berth", "arrival", "status"));
    for (int i = 0; i < CASES; i++) {
      SelectivityEstimator estimator = new SelectivityEstimator(table, statistics());
      List<Predicate> conjuncts = new ArrayList<>();
      double before = 1;
      for (int n = 0; n < 5; n++) {
        conjuncts.add(predicate(2));
        double share = estimator.ofAll(conjuncts).value();
        assertThat(share).as(state(i, conjuncts)).isBetween(0.0, before + 1e-12);
        before = share;
      }
    }
  }

  /** The one exception, a completed unique key, does not occur here. */
  @Test
  void a_further_condition_never_raises_the_confidence() {
    for (int i = 0; i < CASES; i++) {
      SelectivityEstimator estimator = new SelectivityEstimator(bookings(), statistics());
      List<Predicate> conjuncts = new ArrayList<>();
      Confidence before = Confidence.DECLARED;
      for (int n = 0; n < 4; n++) {
        conjuncts.add(predicateWithoutKey());
        Confidence now = estimator.ofAll(conjuncts).confidence();
        assertThat(now.weaker(before)).as(state(i, conjuncts)).isEqualTo(now);
        before = now;
      }
    }
  }

  @Test
  void the_order_of_conditions_does_not_matter() {
    Table table = bookings(index("once", true, "berth", "arrival"));
    for (int i = 0; i < CASES; i++) {
      SelectivityEstimator estimator = new SelectivityEstimator(table, statistics());
      List<Predicate> conjuncts = new ArrayList<>();
      for (int n = 0; n < 4; n++) {
        conjuncts.add(predicate(2));
      }
      Estimate before = estimator.ofAll(conjuncts);
      Collections.shuffle(conjuncts, random);
      Estimate after = estimator.ofAll(conjuncts);
      assertThat(after.value())
          .as(state(i, conjuncts))
          .isCloseTo(before.value(), org.assertj.core.api.Assertions.within(1e-12));
      assertThat(after.confidence()).isEqualTo(before.confidence());
    }
  }

  private static String state(int run, List<Predicate> conjuncts) {
    return "seed "
        + SEED
        + ", case "
        + run
        + ": "
        + conjuncts.stream().map(Predicate::render).toList();
  }

  private TableStatistics statistics() {
    if (random.nextInt(3) == 0) {
      return TableStatistics.UNKNOWN;
    }
    return rows(
        1 + random.nextInt(100_000),
        "vessel",
        random.nextBoolean()
            ? ColumnStatistics.distinct(1 + random.nextInt(500))
            : between("0", "50"),
        "status",
        nulls(random.nextDouble() / 2, 2 + random.nextInt(9), Map.of("7", 0.3, "8", 0.1)),
        "berth",
        between("-10", "10"));
  }

  private Predicate predicateWithoutKey() {
    Predicate predicate = predicate(2);
    while (predicate.columns().contains(ColumnRef.self("id"))) {
      predicate = predicate(2);
    }
    return predicate;
  }

  private Predicate predicate(int depth) {
    Expression left = column(COLUMNS[random.nextInt(COLUMNS.length)]);
    return switch (random.nextInt(depth > 0 ? 7 : 5)) {
      case 0, 1 -> {
        ComparisonOperator[] operators = ComparisonOperator.values();
        yield new Comparison(left, operators[random.nextInt(operators.length)], value());
      }
      case 2 -> new InList(left, List.of(value(), value()), random.nextInt(4) == 0);
      case 3 -> new NullTest(left, random.nextBoolean());
      case 4 -> new TruthTest(column("paid"), random.nextBoolean(), random.nextBoolean());
      case 5 -> new Or(List.of(predicate(depth - 1), predicate(depth - 1)));
      default -> new Not(predicate(depth - 1));
    };
  }

  private Expression value() {
    return random.nextBoolean() ? PARAMETER : number(String.valueOf(random.nextInt(30) - 12));
  }
}
