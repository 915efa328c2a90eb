package dev.colonnade.access;

import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.statistics.Confidence;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.BiFunction;

/**
 * Finds the order in which the tables of a block are read: nested loops, left-deep, dynamic
 * programming over the sets of tables already read (Selinger et al. 1979) up to eight tables,
 * beyond that the cheapest next table each time.
 *
 * <p>An equality join without a usable index is priced as one pass over the table kept in memory (a
 * hash join or join buffer), not as one pass for each outer row.
 */
final class JoinOrder {
  /** Most tables for which every order is weighed. */
  static final int EXHAUSTIVE = 8;

  /** Rows assumed for a derived table that no condition ties to the tables before it. */
  static final double DERIVED_ROWS = 100;

  private final List<FromItem> items;
  private final BiFunction<TableUse, Set<Integer>, UseAnalysis> analysis;

  JoinOrder(List<FromItem> items, BiFunction<TableUse, Set<Integer>, UseAnalysis> analysis) {
    this.items = items;
    this.analysis = analysis;
  }

  /**
   * One item read after certain others.
   *
   * @param cost of all its executions together
   * @param rows that it contributes for each row before it
   */
  private record Step(double cost, double rows) {}

  private record Plan(List<FromItem> order, double cost, double rows) {
    static final Plan EMPTY = new Plan(List.of(), 0, 1);

    Plan then(FromItem item, Step step) {
      List<FromItem> longer = new ArrayList<>(order);
      longer.add(item);
      return new Plan(longer, cost + step.cost(), Math.max(1e-9, rows * step.rows()));
    }

    Set<Integer> uses() {
      Set<Integer> uses = new HashSet<>();
      order.forEach(item -> uses.add(item.use()));
      return uses;
    }
  }

  /** The items in the order in which they are read. */
  List<FromItem> find() {
    if (items.size() <= 1) {
      return items;
    }
    return items.size() <= EXHAUSTIVE ? exhaustive().order() : greedy().order();
  }

  private Plan exhaustive() {
    Map<Integer, Plan> best = new HashMap<>();
    best.put(0, Plan.EMPTY);
    int all = (1 << items.size()) - 1;
    for (int mask = 0; mask < all; mask++) {
      Plan plan = best.get(mask);
      if (plan == null) {
        continue;
      }
      Set<Integer> read = plan.uses();
      for (int i = 0; i < items.size(); i++) {
        int next = mask | (1 << i);
        if (next == mask || !read.containsAll(items.get(i).after())) {
          continue;
        }
        Plan longer = plan.then(items.get(i), step(items.get(i), read, plan.rows()));
        Plan known = best.get(next);
        if (known == null || longer.cost() < known.cost()) {
          best.put(next, longer);
        }
      }
    }
    Plan found = best.get(all);
    return found == null ? asWritten() : found;
  }

  private Plan greedy() {
    Plan plan = Plan.EMPTY;
    List<FromItem> left = new ArrayList<>(items);
    while (!left.isEmpty()) {
      Set<Integer> read = plan.uses();
      Plan best = null;
      FromItem chosen = null;
      for (FromItem item : left) {
        if (!read.containsAll(item.after())) {
          continue;
        }
        Plan longer = plan.then(item, step(item, read, plan.rows()));
        if (best == null || longer.cost() + longer.rows() < best.cost() + best.rows()) {
          best = longer;
          chosen = item;
        }
      }
      if (best == null) {
        return asWritten();
      }
      plan = best;
      left.remove(chosen);
    }
    return plan;
  }

  /** Only where the items wait for each other in a circle, which no valid statement does. */
  private Plan asWritten() {
    return new Plan(items, 0, 1);
  }

  private Step step(FromItem item, Set<Integer> read, double outerRows) {
    if (!(item instanceof TableUse use)) {
      double rows = read.isEmpty() ? DERIVED_ROWS : 1;
      return new Step(DERIVED_ROWS * ScanEstimator.perRow(), rows);
    }
    UseAnalysis found = analysis.apply(use, read);
    double each = found.chosen().estimate().rows();
    double rows = use.nullSupplied() ? Math.max(1, each) : each;
    return new Step(price(found, outerRows), rows);
  }

  /** Cost of all executions of a table that is read for so many outer rows. */
  static double price(UseAnalysis found, double outerRows) {
    double loops = Math.max(1, outerRows) * found.chosen().cost();
    return isReadOnce(found, outerRows) ? readOnce(found, outerRows) : loops;
  }

  /** True when one pass over the table, kept in memory, is better than a look-up for each row. */
  static boolean isReadOnce(UseAnalysis found, double outerRows) {
    if (outerRows <= 1) {
      return false;
    }
    boolean mayJudge =
        (found.rowsKnown() && found.chosen().estimate().confidence() != Confidence.ASSUMED)
            || found.chosen().path() == AccessPath.FULL_TABLE_SCAN;
    return mayJudge && readOnce(found, outerRows) < outerRows * found.chosen().cost();
  }

  private static double readOnce(UseAnalysis found, double outerRows) {
    return found.wholeTable().cost() + outerRows * ScanEstimator.perRow();
  }
}
