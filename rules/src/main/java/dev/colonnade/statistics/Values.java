package dev.colonnade.statistics;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;

/** Tells the values of the scanned table from those that are known when the scan starts. */
final class Values {
  private Values() {}

  /** True when a column of the table itself takes part. */
  static boolean own(Expression value) {
    return value.columns().stream().anyMatch(column -> column.use() == ColumnRef.SELF);
  }
}
