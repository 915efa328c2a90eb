package dev.colonnade.statistics;

import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/**
 * Takes equalities on columns that depend on each other together: where a group of columns is
 * stated to have so many combinations, the share is one of those, not the product of one share for
 * each column (PostgreSQL's extended statistics of kind {@code ndistinct} hold the same number).
 *
 * <p>Columns of a group cannot have more combinations than the group, which also holds where only
 * some of them are bound. A further column never raises the share: the smallest of all subsets
 * counts.
 */
final class ColumnGroups {
  /** Beyond so many bound columns only the whole set and the single columns are weighed. */
  private static final int EVERY_SUBSET = 8;

  private final ColumnFacts facts;

  ColumnGroups(ColumnFacts facts) {
    this.facts = facts;
  }

  /**
   * The share of rows in which all of the columns have the sought value, or one of those.
   *
   * @param shares by column that an equality or list binds, each taken by itself
   */
  Estimate share(Map<Identifier, Estimate> shares) {
    Map<Identifier, Estimate> left = new LinkedHashMap<>(shares);
    Estimate result = Estimate.declared(1);
    for (Map.Entry<Set<Identifier>, Double> group : sorted()) {
      List<Identifier> bound = left.keySet().stream().filter(group.getKey()::contains).toList();
      if (bound.size() > 1) {
        result = result.times(together(bound, left, group.getValue()));
        bound.forEach(left::remove);
      }
    }
    for (Estimate alone : left.values()) {
      result = result.times(alone);
    }
    return result;
  }

  private List<Map.Entry<Set<Identifier>, Double>> sorted() {
    Comparator<Map.Entry<Set<Identifier>, Double>> largestFirst =
        Comparator.comparingInt(group -> -group.getKey().size());
    return facts.groups().entrySet().stream()
        .sorted(
            largestFirst.thenComparing(
                group ->
                    new TreeSet<>(group.getKey().stream().map(Identifier::folded).toList())
                        .toString()))
        .toList();
  }

  private Estimate together(
      List<Identifier> columns, Map<Identifier, Estimate> shares, double combinations) {
    double smallest = 1;
    Confidence confidence = Confidence.DERIVED;
    for (Identifier column : columns) {
      confidence = confidence.weaker(shares.get(column).confidence());
    }
    for (List<Identifier> subset : subsets(columns)) {
      double product = 1;
      double independent = 1;
      for (Identifier column : subset) {
        product *= shares.get(column).value();
        independent *= facts.distinct(column).value();
      }
      double fewer = subset.size() == 1 ? 1 : Math.max(1, independent / combinations);
      smallest = Math.min(smallest, product * fewer);
    }
    return new Estimate(smallest, confidence);
  }

  private static List<List<Identifier>> subsets(List<Identifier> columns) {
    List<List<Identifier>> subsets = new ArrayList<>();
    if (columns.size() > EVERY_SUBSET) {
      columns.forEach(column -> subsets.add(List.of(column)));
      subsets.add(columns);
      return subsets;
    }
    for (int mask = 1; mask < 1 << columns.size(); mask++) {
      List<Identifier> subset = new ArrayList<>();
      for (int i = 0; i < columns.size(); i++) {
        if ((mask & 1 << i) != 0) {
          subset.add(columns.get(i));
        }
      }
      subsets.add(subset);
    }
    return subsets;
  }
}
