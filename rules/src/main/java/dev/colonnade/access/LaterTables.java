package dev.colonnade.access;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.FromItem;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Equalities that a database works out in one step instead of collecting classes of equal values:
 * of three tables or more in FROM, {@code later.a = earlier.b and later.a = 5} asks {@code
 * earlier.b = 5} as well, and {@code later.a = earlier.b and later.a = another.c} asks {@code
 * earlier.b = another.c}. Nothing is carried towards a later table, nor a second step further.
 */
final class LaterTables {
  /** With fewer tables the condition is not looked for. */
  private static final int LEAST = 3;

  private final Map<Integer, Integer> positions = new LinkedHashMap<>();

  /** Tables of outer joins, and those behind them, take no part. */
  private LaterTables(List<FromItem> from) {
    for (FromItem item : from) {
      if (item.nullSupplied()) {
        break;
      }
      positions.put(item.use(), positions.size());
    }
  }

  /** The conditions, and those that they bring. */
  static List<Conjunct> carried(List<Conjunct> conjuncts, List<FromItem> from) {
    LaterTables tables = new LaterTables(from);
    if (tables.positions.size() < LEAST) {
      return conjuncts;
    }
    Set<Conjunct> result = new LinkedHashSet<>(conjuncts);
    tables.positions.keySet().forEach(use -> result.addAll(tables.from(use, conjuncts)));
    return List.copyOf(result);
  }

  /** What the conditions of one table bring to those before it. */
  private List<Conjunct> from(int later, List<Conjunct> conjuncts) {
    Map<ColumnRef, Expression> values = new LinkedHashMap<>();
    Map<ColumnRef, List<ColumnRef>> earlier = new LinkedHashMap<>();
    for (Conjunct conjunct : conjuncts) {
      equality(conjunct, later)
          .ifPresent(
              it -> {
                ColumnRef own = (ColumnRef) it.left();
                if (it.right() instanceof ColumnRef column && positions.containsKey(column.use())) {
                  earlier.computeIfAbsent(own, key -> new ArrayList<>()).add(column);
                } else {
                  values.put(own, it.right());
                }
              });
    }
    List<Conjunct> result = new ArrayList<>();
    earlier.forEach(
        (own, columns) -> {
          for (int i = 0; i < columns.size(); i++) {
            if (values.containsKey(own)) {
              result.add(equal(columns.get(i), values.get(own)));
            }
            for (ColumnRef other : columns.subList(0, i)) {
              result.add(equal(columns.get(i), other));
            }
          }
        });
    return result;
  }

  /** A column of the later table on the left, and a value or an earlier column on the right. */
  private Optional<Comparison> equality(Conjunct conjunct, int later) {
    Predicate predicate = conjunct.predicate();
    if (!(predicate instanceof Comparison comparison)
        || comparison.operator() != ComparisonOperator.EQUAL
        || !conjunct.restricts().contains(later)) {
      return Optional.empty();
    }
    return isOf(comparison, later)
        ? Optional.of(comparison)
        : Optional.of(comparison.flipped()).filter(it -> isOf(it, later));
  }

  private boolean isOf(Comparison comparison, int later) {
    return comparison.left() instanceof ColumnRef own
        && own.use() == later
        && !Operands.isNull(comparison.right())
        && (comparison.right().isConstant()
            || (comparison.right() instanceof ColumnRef other
                && positions.getOrDefault(other.use(), -1) < positions.get(later)
                && other.use() != later));
  }

  private static Conjunct equal(ColumnRef column, Expression value) {
    Comparison comparison = new Comparison(column, ComparisonOperator.EQUAL, value);
    Set<Integer> uses = new LinkedHashSet<>();
    comparison.columns().forEach(it -> uses.add(it.use()));
    return new Conjunct(comparison, uses);
  }
}
