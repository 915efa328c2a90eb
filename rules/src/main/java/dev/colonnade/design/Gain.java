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
    return isWorthwhile(access.chosen(), alternative, access.executions());
  }

  /**
   * True when the alternative saves enough against the other way.
   *
   * @param executions number of times that the table is read in one execution of the query
   */
  public static boolean isWorthwhile(Candidate now, Candidate alternative, double executions) {
    double saved = now.cost() - alternative.cost();
    return saved >= SHARE * now.cost() && saved * Math.max(1, executions) >= LEAST_COST;
  }
}
