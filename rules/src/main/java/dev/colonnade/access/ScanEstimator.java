package dev.colonnade.access;

import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.statistics.Confidence;
import dev.colonnade.statistics.CostConstants;
import dev.colonnade.statistics.Estimate;
import dev.colonnade.statistics.IndexSize;
import dev.colonnade.statistics.PageVisits;
import dev.colonnade.statistics.ScanCost;
import dev.colonnade.statistics.TableProfile;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * Estimates what a scan reads and costs.
 *
 * <p>The unit of cost is one page read in sequence. The constants are PostgreSQL's defaults
 * (src/include/optimizer/cost.h); leaf pages behind the first are taken as read in sequence,
 * because the entries of a stretch lie together.
 */
final class ScanEstimator {
  private final TableProfile profile;
  private final boolean inclusiveEnds;

  /**
   * An estimator for one table.
   *
   * @param inclusiveEnds true when a range is searched with its ends included
   */
  ScanEstimator(TableProfile profile, boolean inclusiveEnds) {
    this.profile = profile;
    this.inclusiveEnds = inclusiveEnds;
  }

  /**
   * What a scan reads, with its cost.
   *
   * @param estimate what one execution reads
   * @param cost in pages read in sequence
   */
  record Priced(AccessEstimate estimate, double cost) {}

  /**
   * What a scan of an index offers beside its bounds.
   *
   * @param covering true when no row is fetched
   * @param ordered true when no sort is needed
   * @param grouped true when the rows of a group come one after the other
   * @param extreme true when the first or last entry answers
   */
  record Offer(boolean covering, boolean ordered, boolean grouped, boolean extreme) {}

  /** Reading the whole table. */
  Priced tableScan(Demand demand, BlockTraits traits) {
    double all = profile.rows().value();
    Estimate share = profile.selectivity(demand.conditions());
    Estimate pages = profile.tablePages();
    double rows = all * share.value();
    boolean sorts = !demand.order().isEmpty();
    Confidence confidence =
        share.confidence().weaker(pages.confidence()).weaker(profile.rows().confidence());
    double part = 1;
    if (!sorts && traits.wantedRows().isPresent()) {
      part = shareToRead(traits.wantedRows().get(), rows);
      confidence = confidence.weaker(traits.wantedRows().get().confidence());
      rows *= part;
    }
    double read = Math.max(1, Math.ceil(pages.value() * part));
    double cost =
        ScanCost.table(read, all * part, demand.conditions().size())
            + afterwards(demand, false, false, rows);
    return new Priced(new AccessEstimate(0, 0, read, rows, confidence), cost);
  }

  /** Reading through an index. */
  Priced indexScan(
      IndexEntry entry,
      Demand demand,
      KeyMatch match,
      EntryFilter filter,
      Offer offer,
      BlockTraits traits) {
    double all = profile.rows().value();
    List<Predicate> own = new ArrayList<>();
    entry.index().predicate().ifPresent(p -> own.addAll(Conditions.conjuncts(p)));
    Estimate matched = share(own, searched(match.origins()));
    Estimate fetchedShare = share(own, union(match.origins(), filter.screened()));
    Estimate rowShare = share(own, union(match.origins(), demand.conditions()));
    IndexSize size = profile.index(entry.index());
    Confidence confidence = size.confidence().weaker(profile.rows().confidence());
    double entries;
    double fetched;
    double rows;
    if (match.unique()) {
      Estimate rest = profile.selectivity(union(filter.screened(), filter.residual()));
      entries = Math.min(1, all);
      fetched = entries;
      rows = rest.value();
      confidence = rest.confidence();
    } else {
      entries = clamp(all * matched.value(), all);
      fetched = Math.min(entries, all * fetchedShare.value());
      rows = Math.min(fetched, all * rowShare.value());
      confidence =
          confidence
              .weaker(matched.confidence())
              .weaker(fetchedShare.confidence())
              .weaker(rowShare.confidence());
    }
    if (offer.extreme()) {
      entries = Math.min(entries, traits.extremes());
      fetched = entries;
      rows = entries;
    } else if (offer.ordered() && traits.wantedRows().isPresent()) {
      Estimate wanted = traits.wantedRows().get();
      double part = shareToRead(wanted, rows);
      entries = clamp(entries * part, all);
      fetched = Math.min(entries, fetched * part);
      rows *= part;
      confidence = confidence.weaker(wanted.confidence());
    }
    double stretches = offer.extreme() ? traits.extremes() : match.stretches();
    double reached =
        offer.extreme() ? Math.min(stretches, size.leafPages()) : reached(own, match, size);
    double leaves = Math.max(size.leafPagesFor(entries), reached);
    double jumps = Math.min(stretches, leaves);
    double descents = stretches;
    if (profile.stepsOn()) {
      jumps = apart(jumps, size.leafPages());
      descents = jumps;
    }
    double inner =
        Math.min(
            descents * size.height(),
            Math.max(size.height(), size.totalPages() - size.leafPages()));
    double cost =
        ScanCost.stretches(jumps, leaves - jumps, entries, demand.conditions().size())
            + jumps * ScanCost.descent(size.entries(), size.height());
    double tablePages = 0;
    if (entry.clustered()) {
      tablePages = leaves;
      leaves = 0;
    } else if (!offer.covering()) {
      double correlation = profile.correlation(entry.index());
      tablePages = profile.pagesVisited(fetched, correlation);
      double pages = profile.tablePages().value();
      cost += ScanCost.visits(fetched, pages, all, size.totalPages(), correlation, 0);
    }
    cost += afterwards(demand, offer.ordered(), offer.grouped(), rows);
    return new Priced(
        new AccessEstimate(entries, inner + leaves, tablePages, rows, confidence), cost);
  }

  /**
   * Leaf pages that the beginnings of the stretches lie on. Stretches with the same head of the key
   * lie within the entries of that head, and so on no more pages than these.
   */
  private double reached(List<Predicate> own, KeyMatch match, IndexSize size) {
    double fewest = PageVisits.cardenas(size.leafPages(), match.stretches());
    double heads = match.jumps();
    Set<Predicate> head = new LinkedHashSet<>();
    for (Bound bound : new LinkedHashSet<>(match.matched())) {
      heads *= bound.points();
      head.addAll(bound.origins());
      if (heads < fewest) {
        double each = profile.rows().value() * share(own, head).value() / heads;
        fewest = Math.min(fewest, heads * size.leafPagesFor(Math.max(1, each)));
      }
    }
    return fewest;
  }

  /** Of so many different pages, spread at random, those that do not lie behind another of them. */
  private static double apart(double pages, double all) {
    return pages <= 1 ? pages : 1 + (pages - 1) * (1 - pages / all);
  }

  /** The conditions as the scan searches by them. */
  private Collection<Predicate> searched(Collection<Predicate> origins) {
    return inclusiveEnds ? origins.stream().map(ScanEstimator::inclusive).toList() : origins;
  }

  private static Predicate inclusive(Predicate origin) {
    return origin instanceof Comparison it
        ? new Comparison(it.left(), it.operator().inclusive(), it.right())
        : origin;
  }

  private Estimate share(List<Predicate> own, Collection<Predicate> conditions) {
    return profile.selectivity(union(own, conditions));
  }

  private static List<Predicate> union(Collection<Predicate> one, Collection<Predicate> other) {
    Set<Predicate> all = new LinkedHashSet<>(one);
    all.addAll(other);
    return List.copyOf(all);
  }

  private static double clamp(double entries, double all) {
    return Math.max(Math.min(1, all), Math.min(entries, all));
  }

  private static double shareToRead(Estimate wanted, double rows) {
    return rows <= 0 ? 1 : Math.min(1, wanted.value() / rows);
  }

  /**
   * What is left to do with the rows: a sort, and a hash table where groups do not come together.
   */
  static double afterwards(Demand demand, boolean ordered, boolean grouped, double rows) {
    double cost = demand.order().isEmpty() || ordered ? 0 : ScanCost.sort(rows);
    return demand.grouping().isEmpty() || grouped ? cost : cost + rows * perRow();
  }

  /** Cost of handing one row up. */
  static double perRow() {
    return CostConstants.ROW;
  }
}
