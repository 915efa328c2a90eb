package dev.colonnade.access;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Confidence;
import dev.colonnade.statistics.TableProfile;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Every way to read one use of a table in one place of the join order, and the one that is taken.
 *
 * @param demand what the use asks
 * @param candidates every index of the table, by name
 * @param chosen the way taken
 * @param branches the branches where an OR is taken apart; empty otherwise
 * @param wholeTable reading the table without an index
 * @param rowsKnown true when the number of the table's rows is stated, not assumed
 */
record UseAnalysis(
    Demand demand,
    List<Candidate> candidates,
    Candidate chosen,
    List<Candidate> branches,
    Candidate wholeTable,
    boolean rowsKnown) {

  static UseAnalysis of(
      QueryBlock block,
      TableUse use,
      Table table,
      Dialect dialect,
      CandidateBuilder builder,
      BoundExtractor extractor,
      Demand demand) {
    BlockTraits traits = BlockTraits.of(block, use.use());
    List<Candidate> candidates =
        table.indexes().stream().map(index -> builder.index(index, demand, traits)).toList();
    Candidate whole = builder.table(demand, traits);
    List<Candidate> ways = new ArrayList<>();
    candidates.stream().filter(candidate -> !candidate.isUnusable()).forEach(ways::add);
    ways.add(whole);
    Optional<OrUnion.Union> union =
        new OrUnion(table, dialect, builder, extractor).cheapest(demand, traits);
    union.ifPresent(found -> ways.add(found.whole()));
    Comparator<Candidate> preference = preference(ways, demand, builder.profile());
    boolean rowsKnown = builder.profile().rows().confidence() != Confidence.ASSUMED;
    Candidate cheapest = ways.stream().min(preference).orElse(whole);
    Candidate chosen = rowsKnown ? FewestPages.among(candidates, cheapest, preference) : cheapest;
    List<Candidate> branches =
        union
            .filter(found -> found.whole().equals(chosen))
            .map(OrUnion.Union::branches)
            .orElse(List.of());
    return new UseAnalysis(demand, candidates, chosen, branches, whole, rowsKnown);
  }

  /**
   * Cheapest first. Where it is only assumed how much a bounded scan reads, it goes before one that
   * reads the whole table all the same: an assumed number is no ground for saying that an index is
   * not used. So does a look-up of one row by its key: on a table of a page or two a database may
   * read the table instead, for the same price, and stops doing so when the table grows. A whole
   * index that spares the visits to the table, or the sort, is a use of an index too, so that cost
   * decides: else a new index could take a query away from a cheaper one.
   */
  private static Comparator<Candidate> preference(
      List<Candidate> ways, Demand demand, TableProfile profile) {
    boolean boundFirst =
        ways.stream()
            .anyMatch(
                way ->
                    way.path() == AccessPath.UNIQUE_LOOKUP
                        || (isBound(way, demand) && isReadAssumed(way, demand, profile)));
    return Comparator.<Candidate>comparingInt(way -> boundFirst && isPlain(way, demand) ? 1 : 0)
        .thenComparingDouble(Candidate::cost)
        .thenComparingInt(candidate -> -candidate.matching().size())
        .thenComparingInt(candidate -> candidate.index().map(i -> i.keyColumns().size()).orElse(0))
        .thenComparing(candidate -> candidate.index().map(i -> i.name().folded()).orElse(""));
  }

  /** True when it is assumed, not known, which share of the table the bounds of a scan select. */
  private static boolean isReadAssumed(Candidate way, Demand demand, TableProfile profile) {
    if (way.matching().isEmpty()) {
      return way.estimate().confidence() == Confidence.ASSUMED;
    }
    Set<Predicate> bounding = new LinkedHashSet<>();
    for (Expression value : way.matching()) {
      // The later columns of a row comparison are bound by it, but have no bound of their own.
      demand.boundsOn(value).stream()
          .findFirst()
          .ifPresent(bound -> bounding.addAll(bound.origins()));
    }
    return profile
            .selectivity(List.copyOf(bounding))
            .confidence()
            .weaker(profile.rows().confidence())
        == Confidence.ASSUMED;
  }

  /** True when everything is read and nothing is spared by it. */
  private static boolean isPlain(Candidate way, Demand demand) {
    return !isBound(way, demand) && !way.covering() && !way.orderServed().orElse(false);
  }

  private static boolean isBound(Candidate candidate, Demand demand) {
    if (candidate.matching().isEmpty()) {
      return candidate.path() == AccessPath.RANGE_SCAN;
    }
    return demand.boundsOn(candidate.matching().get(0)).stream()
        .anyMatch(bound -> bound.kind() != Bound.Kind.IS_NOT_NULL);
  }

  /** True when the way taken yields one row at most. */
  boolean isSingleRow() {
    return chosen.path() == AccessPath.UNIQUE_LOOKUP;
  }
}
