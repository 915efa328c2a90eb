package dev.colonnade.measure;

import java.util.List;

/**
 * What a plan says, taken from the database's own wording.
 *
 * @param reads the tables in the order in which the plan names them
 * @param sorts whether rows are sorted anywhere
 */
record PlannedReads(List<PlannedRead> reads, boolean sorts) {
  /** Copies the list. */
  PlannedReads {
    reads = List.copyOf(reads);
  }
}
