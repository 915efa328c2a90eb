package dev.colonnade.planner;

import java.util.List;

/**
 * One scan of a plan through an index.
 *
 * @param alias the table as the query names it
 * @param index the index as the database names it
 * @param matching the key columns that the scan seeks on
 * @param readBefore aliases that are read before it in the same join
 * @param joined aliases of the same join, before it or after
 */
record PlannedScan(
    String alias,
    String index,
    List<String> matching,
    boolean covering,
    List<String> readBefore,
    List<String> joined) {
  /** Copies the lists. */
  PlannedScan {
    matching = List.copyOf(matching);
    readBefore = List.copyOf(readBefore);
    joined = List.copyOf(joined);
  }

  PlannedScan withJoined(List<String> aliases) {
    return new PlannedScan(alias, index, matching, covering, readBefore, aliases);
  }
}
