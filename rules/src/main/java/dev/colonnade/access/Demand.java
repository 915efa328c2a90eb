package dev.colonnade.access;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.OrderItem;
import java.util.List;
import java.util.Set;

/**
 * What one use of a table asks of an index, given which tables were read before it. All columns
 * belong to {@code SELF} except those inside {@code conditions}, which are as written.
 *
 * @param bounds values that the conditions bind, strongest bound of each value first
 * @param conditions every condition that can be decided on a row of this table with the tables read
 *     before it
 * @param neededColumns every column of this use that the query reads
 * @param wholeRow true when the row itself is needed whatever the columns
 * @param order required order, where this table decides it; empty otherwise
 * @param grouping grouping or DISTINCT terms, where this table decides them; empty otherwise
 * @param repeated true when the table is read once for each row of the tables before it
 */
public record Demand(
    List<Bound> bounds,
    List<Predicate> conditions,
    Set<Identifier> neededColumns,
    boolean wholeRow,
    List<OrderItem> order,
    List<dev.colonnade.predicate.Expression> grouping,
    boolean repeated) {
  /** Copies the collections. */
  public Demand {
    bounds = List.copyOf(bounds);
    conditions = List.copyOf(conditions);
    neededColumns =
        java.util.Collections.unmodifiableSet(new java.util.LinkedHashSet<>(neededColumns));
    order = List.copyOf(order);
    grouping = List.copyOf(grouping);
  }
}
