package dev.colonnade.access;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Confidence;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * An OR over different columns, each branch through an index of its own. One branch without an
 * index spoils the whole: then every row has to be read anyway.
 */
final class OrUnion {
  private final Table table;
  private final Dialect dialect;
  private final CandidateBuilder builder;
  private final BoundExtractor extractor;

  OrUnion(Table table, Dialect dialect, CandidateBuilder builder, BoundExtractor extractor) {
    this.table = table;
    this.dialect = dialect;
    this.builder = builder;
    this.extractor = extractor;
  }

  /**
   * The union and its branches.
   *
   * @param whole the union as one way to read the table
   * @param branches the best way of each branch
   */
  record Union(Candidate whole, List<Candidate> branches) {}

  /** The cheapest union over one of the demand's ORs; empty where there is none. */
  Optional<Union> cheapest(Demand demand, BlockTraits traits) {
    if (!dialect.matching().orUnion().value()) {
      return Optional.empty();
    }
    return demand.conditions().stream()
        .filter(Or.class::isInstance)
        .map(condition -> union((Or) condition, demand, traits))
        .flatMap(Optional::stream)
        .min(Comparator.comparingDouble(union -> union.whole().cost()));
  }

  private Optional<Union> union(Or or, Demand demand, BlockTraits traits) {
    List<Candidate> branches = new ArrayList<>();
    for (Predicate part : or.parts()) {
      Optional<Candidate> best = branch(part, or, demand, traits);
      if (best.isEmpty()) {
        return Optional.empty();
      }
      branches.add(best.get());
    }
    double entries = 0;
    double indexPages = 0;
    double tablePages = 0;
    double cost = 0;
    Confidence confidence = Confidence.DERIVED;
    for (Candidate branch : branches) {
      entries += branch.estimate().entries();
      indexPages += branch.estimate().indexPages();
      tablePages += branch.estimate().tablePages();
      cost += branch.cost();
      confidence = confidence.weaker(branch.estimate().confidence());
    }
    double all = builder.profile().rows().value();
    double rows = all * builder.profile().selectivity(demand.conditions()).value();
    double pages = Math.min(tablePages, builder.profile().tablePages().value());
    cost += ScanEstimator.afterwards(demand, false, false, rows);
    Candidate whole =
        new Candidate(
            Optional.empty(),
            AccessPath.RANGE_SCAN,
            List.of(),
            List.of(),
            demand.conditions(),
            false,
            List.of(),
            demand.order().isEmpty() ? Optional.empty() : Optional.of(false),
            demand.grouping().isEmpty() ? Optional.empty() : Optional.of(false),
            "one index for each branch of the OR",
            new AccessEstimate(entries, indexPages, pages, Math.min(rows, entries), confidence),
            cost);
    return Optional.of(new Union(whole, branches));
  }

  private Optional<Candidate> branch(Predicate part, Or or, Demand demand, BlockTraits traits) {
    List<Predicate> own = Conditions.conjuncts(part);
    List<Predicate> conditions = new ArrayList<>(own);
    demand.conditions().stream().filter(c -> !c.equals(or)).forEach(conditions::add);
    List<Bound> ownBounds = extractor.extract(own);
    Demand ofBranch = demand.with(extractor.extract(conditions), conditions);
    BlockTraits unlimited =
        new BlockTraits(
            Optional.empty(),
            Optional.empty(),
            false,
            0,
            traits.singleTable(),
            true,
            traits.distinct(),
            traits.joined(),
            traits.outerJoin(),
            traits.derivedJoined(),
            traits.joinedFurther());
    return table.indexes().stream()
        .map((Index index) -> builder.index(index, ofBranch, unlimited))
        .filter(
            candidate ->
                candidate.matching().stream()
                    .anyMatch(
                        value -> ownBounds.stream().anyMatch(bound -> bound.value().equals(value))))
        .min(Comparator.comparingDouble(Candidate::cost));
  }
}
