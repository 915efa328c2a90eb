package dev.colonnade.design;

import dev.colonnade.access.TableAccess;
import dev.colonnade.predicate.Expression;
import dev.colonnade.query.OrderItem;
import dev.colonnade.schema.KeyColumn;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Which of several column orders to propose for a new index. */
public final class NarrowOrders {
  /**
   * Where the narrow index does not pay, a wide one has to save nearly everything to be worth its
   * width. Our own choice.
   */
  private static final double MUCH_LESS = 0.1;

  private NarrowOrders() {}

  /**
   * The best new order that is worth while: one whose every column bounds, orders or groups, if
   * there is such; one that also holds columns for coverage otherwise.
   */
  public static Optional<ColumnOrder> best(TableAccess access, List<ColumnOrder> orders) {
    List<ColumnOrder> helpful =
        orders.stream()
            .filter(order -> order.existing().isEmpty())
            .filter(order -> Gain.isWorthwhile(access, order.candidate()))
            .toList();
    return ColumnOrders.best(helpful.stream().filter(order -> isNarrow(access, order)).toList())
        .or(
            () ->
                ColumnOrders.best(helpful)
                    .filter(
                        order -> order.candidate().cost() <= access.chosen().cost() * MUCH_LESS));
  }

  /**
   * The best covering order, where it costs half of the narrow one or less: worth a word beside it.
   */
  public static Optional<ColumnOrder> covering(ColumnOrder narrow, List<ColumnOrder> orders) {
    return ColumnOrders.best(
            orders.stream()
                .filter(order -> order.candidate().covering() && order.existing().isEmpty())
                .toList())
        .filter(order -> order.candidate().cost() <= narrow.candidate().cost() / 2);
  }

  private static boolean isNarrow(TableAccess access, ColumnOrder order) {
    Set<Expression> used = new HashSet<>(order.candidate().matching());
    access.demand().order().stream().map(OrderItem::expression).forEach(used::add);
    used.addAll(access.demand().grouping());
    return order.index().includedColumns().isEmpty()
        && order.index().keyColumns().stream().map(KeyColumn::value).allMatch(used::contains);
  }
}
