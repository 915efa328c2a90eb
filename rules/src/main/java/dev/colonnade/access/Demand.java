package dev.colonnade.access;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.OrderItem;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * What one use of a table asks of an index, given which tables were read before it.
 *
 * <p>Throughout, the columns of the table itself belong to {@code SELF}; columns of other tables
 * keep the number of their use.
 *
 * @param bounds values that the conditions bind, the strongest bound of each value first
 * @param conditions every condition that can be decided on a row of this table together with the
 *     rows of the tables read before it; of several equalities that say the same, one
 * @param neededColumns every column of this use that the query reads
 * @param outputColumns those of the needed columns that are needed for more than the conditions:
 *     once a row is known to qualify, only these are read
 * @param wholeRow true when the row itself is needed whatever the columns
 * @param order required order, where this table is the one to decide it; empty otherwise
 * @param grouping grouping or DISTINCT terms, where this table is the one to bring groups together;
 *     empty otherwise
 * @param repeated true when the table is read again for each row of the tables before it or of an
 *     enclosing block
 * @param single other uses of the block that have one row at most for each row of this one, such as
 *     a table that is joined by its primary key
 * @param conditionCount number of conditions that the block has in all, of whichever table
 */
public record Demand(
    List<Bound> bounds,
    List<Predicate> conditions,
    Set<Identifier> neededColumns,
    Set<Identifier> outputColumns,
    boolean wholeRow,
    List<OrderItem> order,
    List<Expression> grouping,
    boolean repeated,
    Set<Integer> single,
    int conditionCount) {
  /** Copies the collections. */
  public Demand {
    bounds = List.copyOf(bounds);
    conditions = List.copyOf(conditions);
    neededColumns = Collections.unmodifiableSet(new LinkedHashSet<>(neededColumns));
    outputColumns = Collections.unmodifiableSet(new LinkedHashSet<>(outputColumns));
    order = List.copyOf(order);
    grouping = List.copyOf(grouping);
    single = Set.copyOf(single);
  }

  /** True when one row of this use leaves one value of it at most. */
  boolean isDecidedByRow(Expression value) {
    return value.columns().stream()
        .allMatch(column -> Operands.isSelf(column) || single.contains(column.use()));
  }

  /** The bounds on one value, strongest first. */
  public List<Bound> boundsOn(Expression value) {
    return bounds.stream().filter(bound -> bound.value().equals(value)).toList();
  }

  /** The same demand with some of its bounds only. */
  Demand withBounds(java.util.function.Predicate<Bound> kept) {
    return new Demand(
        bounds.stream().filter(kept).toList(),
        conditions,
        neededColumns,
        outputColumns,
        wholeRow,
        order,
        grouping,
        repeated,
        single,
        conditionCount);
  }

  /** The same demand under other conditions: one branch of an OR in place of the whole. */
  Demand with(List<Bound> otherBounds, List<Predicate> otherConditions) {
    return new Demand(
        otherBounds,
        otherConditions,
        neededColumns,
        neededColumns,
        wholeRow,
        List.of(),
        List.of(),
        repeated,
        single,
        conditionCount);
  }
}
