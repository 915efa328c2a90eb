package dev.colonnade.measure;

import dev.colonnade.access.QueryAccess;
import java.util.List;

/**
 * One query with what was predicted for the rows of the measured database and what its planner
 * says.
 *
 * @param plan as the database words it
 * @param differences where the two differ
 */
record MeasuredQuery(QueryAccess predicted, String plan, List<Difference> differences) {
  /** Copies the list. */
  MeasuredQuery {
    differences = List.copyOf(differences);
  }

  /** True where an index does something else than predicted. */
  boolean differsInPath() {
    return differences.stream().anyMatch(it -> it.kind() == Difference.Kind.PATH);
  }

  /** True where only another index is taken, or none. */
  boolean differsInChoice() {
    return !differences.isEmpty() && !differsInPath();
  }

  /** True where nothing differs but the choice on small tables. */
  boolean differsOnSmallTablesOnly() {
    return differsInChoice() && differences.stream().allMatch(Difference::small);
  }
}
