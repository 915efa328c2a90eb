package dev.colonnade.access;

import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.Aggregate;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import java.util.LinkedHashSet;
import java.util.Set;

/** Which columns a query reads of a table whatever becomes of the conditions on it. */
final class OutputColumns {
  private OutputColumns() {}

  /** Columns of the use that are read for more than the conditions of its own block. */
  static Set<Identifier> of(Query query, QueryBlock block, int self) {
    Set<ColumnRef> inConditions = new LinkedHashSet<>();
    block.conjuncts().forEach(conjunct -> inConditions.addAll(conjunct.predicate().columns()));
    Set<ColumnRef> elsewhere = new LinkedHashSet<>();
    for (QueryBlock any : query.blocks()) {
      any.projection().forEach(value -> elsewhere.addAll(value.columns()));
      any.groupBy().forEach(value -> elsewhere.addAll(value.columns()));
      any.orderBy().forEach(item -> elsewhere.addAll(item.expression().columns()));
      for (Aggregate aggregate : any.aggregates()) {
        aggregate.arguments().forEach(value -> elsewhere.addAll(value.columns()));
      }
      if (any.number() != block.number()) {
        any.conjuncts().forEach(conjunct -> elsewhere.addAll(conjunct.predicate().columns()));
      }
    }
    Set<Identifier> result = new LinkedHashSet<>();
    for (Identifier column : block.columnsOf(self)) {
      ColumnRef ref = new ColumnRef(self, column);
      if (elsewhere.contains(ref) || !inConditions.contains(ref)) {
        result.add(column);
      }
    }
    return result;
  }
}
