package dev.colonnade.access;

import dev.colonnade.query.Query;
import java.util.List;

/**
 * How one query reads each of its tables.
 *
 * @param tables by block, then join position
 */
public record QueryAccess(Query query, List<TableAccess> tables) {
  /** Copies the list. */
  public QueryAccess {
    tables = List.copyOf(tables);
  }

  /** Cost of one execution: every table as often as it is read. */
  public double cost() {
    return tables.stream().mapToDouble(t -> t.chosen().cost() * t.executions()).sum();
  }
}
