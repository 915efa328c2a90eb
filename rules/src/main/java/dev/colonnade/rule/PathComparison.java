package dev.colonnade.rule;

import dev.colonnade.access.Candidate;
import java.util.Optional;

/** Compares two ways of reading the same table for the same query, estimates left aside. */
public final class PathComparison {
  private PathComparison() {}

  /**
   * True when the first way is worse in any respect: a less precise path, fewer matching columns,
   * coverage or order lost. A wider index with all the same properties is not worse.
   */
  public static boolean isWorse(Candidate now, Candidate before) {
    return now.path().compareTo(before.path()) > 0
        || now.matching().size() < before.matching().size()
        || (before.covering() && !now.covering())
        || isLost(now.orderServed(), before.orderServed())
        || isLost(now.groupingServed(), before.groupingServed());
  }

  private static boolean isLost(Optional<Boolean> now, Optional<Boolean> before) {
    return before.equals(Optional.of(true)) && !now.equals(Optional.of(true));
  }
}
