package dev.colonnade.planner;

import java.util.List;
import java.util.Optional;

/**
 * What a plan does with a query.
 *
 * @param scans those that go through an index
 * @param first the alias of what is read first; empty where the plan does not tell
 * @param plan the plan itself
 */
record PlannedQuery(List<PlannedScan> scans, Optional<String> first, String plan) {
  /** The name of rows that a query spells out. */
  static final String VALUES = "*VALUES*";

  /** Copies the list. */
  PlannedQuery {
    scans = List.copyOf(scans);
  }
}
