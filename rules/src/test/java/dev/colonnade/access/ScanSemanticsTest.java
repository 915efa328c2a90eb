package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.query.OrderItem;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.statistics.Statistics;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;

/**
 * Holds the claims against the definition itself: rows are made, an index is sorted, and what the
 * analysis says about matching columns, order and covering is checked on the sorted entries. No
 * database and no cost takes part, so a wrong rule about prefixes, directions or NULLs shows here.
 */
class ScanSemanticsTest {
  private static final long SEED = 20_260_101;
  private static final int QUERIES = 1_500;
  private static final int ROWS = 120;

  @Test
  void matching_conditions_select_contiguous_stretches_and_served_orders_are_orders() {
    Random random = new Random(SEED);
    int bounded = 0;
    int ordered = 0;
    for (int i = 0; i < QUERIES; i++) {
      RandomQuery made = RandomQuery.from(random);
      Dialect dialect = Dialects.all().get(random.nextInt(Dialects.all().size()));
      List<Map<Identifier, Integer>> rows = rows(made, random);
      TableAccess access =
          new AccessPathAnalyzer(made.schema(), dialect, Statistics.NONE)
              .analyze(made.query())
              .tables()
              .get(0);
      for (Candidate candidate : access.candidates()) {
        String context = "seed " + SEED + ", query " + i + ", " + dialect + ", " + candidate + made;
        List<Map<Identifier, Integer>> entries = sorted(rows, candidate, dialect);
        checkStretches(entries, candidate, access.demand(), context);
        if (candidate.orderServed().orElse(false)) {
          checkOrder(entries, made, access.demand(), dialect, context);
          ordered++;
        }
        bounded += candidate.matching().isEmpty() ? 0 : 1;
      }
    }
    assertThat(bounded).as("candidates with matching columns").isGreaterThan(500);
    assertThat(ordered).as("candidates that serve the order").isGreaterThan(200);
  }

  private static List<Map<Identifier, Integer>> rows(RandomQuery made, Random random) {
    List<Map<Identifier, Integer>> rows = new ArrayList<>();
    for (int i = 0; i < ROWS; i++) {
      Map<Identifier, Integer> row = new HashMap<>();
      made.table()
          .columns()
          .forEach(
              column ->
                  row.put(
                      column.name(),
                      column.nullable() && random.nextInt(5) == 0
                          ? null
                          : Integer.valueOf(random.nextInt(RandomQuery.DOMAIN))));
      rows.add(row);
    }
    return rows;
  }

  private static List<Map<Identifier, Integer>> sorted(
      List<Map<Identifier, Integer>> rows, Candidate candidate, Dialect dialect) {
    Comparator<Map<Identifier, Integer>> order = Comparator.comparingInt(row -> 0);
    for (KeyColumn part : candidate.index().orElseThrow().keyColumns()) {
      boolean descending = part.descending() && dialect.features().descending().value();
      order = order.thenComparing(byColumn(part.column().orElseThrow(), descending, dialect));
    }
    return rows.stream().sorted(order).toList();
  }

  private static Comparator<Map<Identifier, Integer>> byColumn(
      Identifier column, boolean descending, Dialect dialect) {
    boolean nullsFirst = dialect.ordering().nullsFirst().value();
    Comparator<Integer> values =
        nullsFirst
            ? Comparator.nullsFirst(Comparator.<Integer>naturalOrder())
            : Comparator.nullsLast(Comparator.<Integer>naturalOrder());
    Comparator<Map<Identifier, Integer>> ascending =
        Comparator.comparing(row -> row.get(column), values);
    return descending ? ascending.reversed() : ascending;
  }

  /** The entries that satisfy the matched conditions lie in as many runs as there are points. */
  private static void checkStretches(
      List<Map<Identifier, Integer>> entries, Candidate candidate, Demand demand, String context) {
    Set<Predicate> matched = new LinkedHashSet<>();
    int points = 1;
    for (Expression value : candidate.matching()) {
      Bound bound = demand.boundsOn(value).get(0);
      matched.addAll(bound.origins());
      points *= bound.points();
    }
    if (matched.stream().anyMatch(Or.class::isInstance)) {
      return;
    }
    int runs = 0;
    boolean inside = false;
    for (Map<Identifier, Integer> entry : entries) {
      boolean hit = matched.stream().allMatch(condition -> holds(condition, entry));
      runs += hit && !inside ? 1 : 0;
      inside = hit;
    }
    assertThat(runs).as(context).isLessThanOrEqualTo(points);
  }

  private static void checkOrder(
      List<Map<Identifier, Integer>> entries,
      RandomQuery made,
      Demand demand,
      Dialect dialect,
      String context) {
    List<Map<Identifier, Integer>> wanted =
        entries.stream()
            .filter(row -> demand.conditions().stream().allMatch(c -> holds(c, row)))
            .toList();
    assertThat(
            isSorted(wanted, made.order(), dialect)
                || isSorted(reversed(wanted), made.order(), dialect))
        .as(context)
        .isTrue();
  }

  private static List<Map<Identifier, Integer>> reversed(List<Map<Identifier, Integer>> rows) {
    List<Map<Identifier, Integer>> result = new ArrayList<>(rows);
    Collections.reverse(result);
    return result;
  }

  private static boolean isSorted(
      List<Map<Identifier, Integer>> rows, List<OrderItem> order, Dialect dialect) {
    Comparator<Map<Identifier, Integer>> comparator = Comparator.comparingInt(row -> 0);
    for (OrderItem item : order) {
      Identifier column = ((ColumnRef) item.expression()).column();
      comparator = comparator.thenComparing(byColumn(column, item.descending(), dialect));
    }
    for (int i = 1; i < rows.size(); i++) {
      if (comparator.compare(rows.get(i - 1), rows.get(i)) > 0) {
        return false;
      }
    }
    return true;
  }

  /** Three-valued logic folded to "qualifies": unknown does not. */
  private static boolean holds(Predicate condition, Map<Identifier, Integer> row) {
    if (condition instanceof NullTest test) {
      return (read(test.operand(), row) == null) != test.negated();
    }
    if (condition instanceof InList list) {
      Integer value = read(list.operand(), row);
      return value != null && list.values().stream().anyMatch(v -> value.equals(read(v, row)));
    }
    if (condition instanceof Or or) {
      return or.parts().stream().anyMatch(part -> holds(part, row));
    }
    Comparison comparison = (Comparison) condition;
    Integer left = read(comparison.left(), row);
    Integer right = read(comparison.right(), row);
    if (left == null || right == null) {
      return false;
    }
    int sign = left.compareTo(right);
    return switch (comparison.operator()) {
      case EQUAL, NULL_SAFE_EQUAL -> sign == 0;
      case NOT_EQUAL, NULL_SAFE_NOT_EQUAL -> sign != 0;
      case LESS -> sign < 0;
      case LESS_OR_EQUAL -> sign <= 0;
      case GREATER -> sign > 0;
      case GREATER_OR_EQUAL -> sign >= 0;
    };
  }

  private static Integer read(Expression expression, Map<Identifier, Integer> row) {
    return expression instanceof ColumnRef column
        ? row.get(column.column())
        : Integer.valueOf(((Literal) expression).text());
  }
}
