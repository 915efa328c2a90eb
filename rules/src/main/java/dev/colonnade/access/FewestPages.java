package dev.colonnade.access;

import java.util.Comparator;
import java.util.List;

/**
 * Chooses between indexes through which rows are fetched for nearly the same cost: the one that
 * reads the fewest pages. A cost weighs pages by how they are read and adds the work on entries and
 * rows, so that costs that differ by less than a third tell little; pages are what a busy database
 * waits for.
 */
public final class FewestPages {
  private static final double NEARLY_THE_SAME = 1.3;

  private FewestPages() {}

  /**
   * The index to take in place of the cheapest one; the cheapest itself where no other is as good,
   * or where it is more than a scan of a bounded stretch whose rows are fetched.
   *
   * @param candidates the indexes of the table
   * @param cheapest the cheapest way
   * @param otherwise what decides between indexes that read as many pages
   */
  public static Candidate among(
      List<Candidate> candidates, Candidate cheapest, Comparator<Candidate> otherwise) {
    if (cheapest.index().isEmpty() || cheapest.path() != AccessPath.RANGE_SCAN) {
      return cheapest;
    }
    return candidates.stream()
        .filter(it -> it.path() == cheapest.path() && !it.matching().isEmpty())
        .filter(it -> it.cost() <= cheapest.cost() * NEARLY_THE_SAME)
        .filter(it -> it.orderServed().equals(cheapest.orderServed()))
        .filter(it -> it.groupingServed().equals(cheapest.groupingServed()))
        .min(Comparator.comparingDouble(FewestPages::pages).thenComparing(otherwise))
        .orElse(cheapest);
  }

  private static double pages(Candidate candidate) {
    return candidate.estimate().indexPages() + candidate.estimate().tablePages();
  }
}
