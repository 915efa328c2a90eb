package dev.colonnade.design;

import dev.colonnade.access.Candidate;
import dev.colonnade.access.TableAccess;

/** When a cheaper way is worth speaking of. */
public final class Gain {
  /**
   * What is saved must be at least this share of the cost, and at least a page: estimates are no
   * better than that. Our own choice.
   */
  private static final double SHARE = 0.2;

  private static final double LEAST_COST = 1;

  private Gain() {}

  /** True when the alternative saves enough to outweigh the error of the estimates. */
  public static boolean isWorthwhile(TableAccess access, Candidate alternative) {
    double now = access.chosen().cost();
    double saved = now - alternative.cost();
    return saved >= SHARE * now && saved * Math.max(1, access.executions()) >= LEAST_COST;
  }
}
