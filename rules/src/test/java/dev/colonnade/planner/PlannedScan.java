package dev.colonnade.planner;

import java.util.List;
import java.util.Optional;

/**
 * One scan of a plan through an index.
 *
 * @param alias the table as the query names it, or as the database does
 * @param index the index as the database names it
 * @param matching the key columns that the scan seeks on; empty where the plan does not tell
 * @param covering whether the table is left alone; empty where the plan does not tell
 * @param readBefore aliases that are read before it in the same join
 * @param joined aliases of the same join, before it or after
 */
record PlannedScan(
    String alias,
    String index,
    Optional<List<String>> matching,
    Optional<Boolean> covering,
    List<String> readBefore,
    List<String> joined) {
  /** Copies the lists. */
  PlannedScan {
    readBefore = List.copyOf(readBefore);
    joined = List.copyOf(joined);
  }

  PlannedScan(
      String alias,
      String index,
      List<String> matching,
      Optional<Boolean> covering,
      List<String> readBefore,
      List<String> joined) {
    this(alias, index, Optional.of(List.copyOf(matching)), covering, readBefore, joined);
  }

  PlannedScan withJoined(List<String> aliases) {
    return new PlannedScan(alias, index, matching, covering, readBefore, aliases);
  }

  String summary() {
    return alias
        + " by "
        + index
        + " after "
        + readBefore
        + ": matching "
        + matching.map(List::toString).orElse("?")
        + ", covering "
        + covering.map(String::valueOf).orElse("?");
  }
}
