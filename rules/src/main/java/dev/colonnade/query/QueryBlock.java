package dev.colonnade.query;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.FromItem.TableUse;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * One SELECT of a statement, or the reading part of an UPDATE or DELETE.
 *
 * @param number counted from 1; 1 is the statement itself, the others follow in the order WITH,
 *     FROM, select list, WHERE, GROUP BY, HAVING, ORDER BY
 * @param parent number of the enclosing block; empty for block 1
 * @param role what the block is to its statement
 * @param from tables and derived tables
 * @param conjuncts conditions
 * @param projection values of the select list, stars expanded; empty under EXISTS and for UPDATE
 * @param aggregates aggregate calls
 * @param groupBy grouping terms
 * @param distinct true for SELECT DISTINCT
 * @param orderBy required order; that of a set operation belongs to none of its blocks
 * @param limit row limit of this block
 * @param columns every column of this block's own FROM items that is read anywhere in the query,
 *     subqueries included
 */
public record QueryBlock(
    int number,
    Optional<Integer> parent,
    BlockRole role,
    List<FromItem> from,
    List<Conjunct> conjuncts,
    List<Expression> projection,
    List<Aggregate> aggregates,
    List<Expression> groupBy,
    boolean distinct,
    List<OrderItem> orderBy,
    Optional<Limit> limit,
    Set<ColumnRef> columns) {

  /** Copies the collections. */
  public QueryBlock {
    from = List.copyOf(from);
    conjuncts = List.copyOf(conjuncts);
    projection = List.copyOf(projection);
    aggregates = List.copyOf(aggregates);
    groupBy = List.copyOf(groupBy);
    orderBy = List.copyOf(orderBy);
    columns = java.util.Collections.unmodifiableSet(new LinkedHashSet<>(columns));
  }

  /** The same block under other conditions. */
  public QueryBlock withConjuncts(List<Conjunct> others) {
    return new QueryBlock(
        number,
        parent,
        role,
        from,
        others,
        projection,
        aggregates,
        groupBy,
        distinct,
        orderBy,
        limit,
        columns);
  }

  /** The same block, of which these columns are read as well. */
  public QueryBlock withColumns(Set<ColumnRef> further) {
    Set<ColumnRef> all = new LinkedHashSet<>(columns);
    further.stream().sorted().forEach(all::add);
    return new QueryBlock(
        number,
        parent,
        role,
        from,
        conjuncts,
        projection,
        aggregates,
        groupBy,
        distinct,
        orderBy,
        limit,
        all);
  }

  /** The tables among the FROM items. */
  public List<TableUse> tables() {
    return from.stream().filter(TableUse.class::isInstance).map(TableUse.class::cast).toList();
  }

  /** The columns of one use that the query reads, in order of appearance. */
  public Set<Identifier> columnsOf(int use) {
    Set<Identifier> result = new LinkedHashSet<>();
    for (ColumnRef column : columns) {
      if (column.use() == use) {
        result.add(column.column());
      }
    }
    return result;
  }
}
