package dev.colonnade.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * One read of a table in a plan.
 *
 * @param alias the table as the plan names it
 * @param index the index; empty where the table itself is read from end to end
 * @param bounds conditions that the plan puts on columns of the index; empty where it does not tell
 *     them, or not in a way that is understood
 * @param covering whether the index alone answers; empty where the plan does not tell
 * @param after tables whose rows give values to the conditions
 */
record PlannedRead(
    String alias,
    Optional<String> index,
    Optional<List<Bound>> bounds,
    Optional<Boolean> covering,
    Set<String> after) {
  /** Copies the set. */
  PlannedRead {
    after = Set.copyOf(after);
  }

  /**
   * A condition on one column.
   *
   * @param column in lower case
   * @param point true where it leaves single values, so that the next column is bounded, too
   */
  record Bound(String column, boolean point) {
    Bound {
      column = column.toLowerCase(Locale.ROOT);
    }
  }

  /** The table is read without an index. */
  static PlannedRead whole(String alias) {
    return new PlannedRead(alias, Optional.empty(), Optional.empty(), Optional.empty(), Set.of());
  }

  /** The table is read through an index, and no more is known. */
  static PlannedRead through(String alias, String index) {
    return new PlannedRead(alias, Optional.of(index), Optional.empty(), Optional.empty(), Set.of());
  }

  PlannedRead withBounds(Optional<List<Bound>> value) {
    return new PlannedRead(alias, index, value.map(List::copyOf), covering, after);
  }

  PlannedRead withCovering(boolean value) {
    return new PlannedRead(alias, index, bounds, Optional.of(value), after);
  }

  PlannedRead withAfter(Set<String> value) {
    return new PlannedRead(alias, index, bounds, covering, value);
  }

  /**
   * The leading key columns that the scan seeks on: single values, then at most one range.
   *
   * @param key columns of the index, in lower case
   */
  Optional<List<String>> matching(List<String> key) {
    return bounds.map(
        all -> {
          List<String> matching = new ArrayList<>();
          for (String column : key) {
            List<Bound> own = all.stream().filter(it -> it.column().equals(column)).toList();
            if (!own.isEmpty()) {
              matching.add(column);
            }
            if (own.stream().noneMatch(Bound::point)) {
              break;
            }
          }
          return matching;
        });
  }
}
