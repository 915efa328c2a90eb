package dev.colonnade.access;

import dev.colonnade.access.Bound.Kind;
import dev.colonnade.dialect.BooleanRules;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.IndexFeatures.PredicateCover;
import dev.colonnade.dialect.JoinRules;
import dev.colonnade.dialect.ScanRules;
import dev.colonnade.dialect.SortRules;
import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Confidence;
import dev.colonnade.statistics.Estimate;
import dev.colonnade.statistics.TableProfile;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Builds the candidates of one table: each index, and the table itself. */
final class CandidateBuilder {
  /**
   * Most distinct leading values over which a skip scan is credited: "at most several hundred"
   * (PostgreSQL 18 manual, chapter 11.3).
   */
  private static final double SKIP_MOST_VALUES = 300;

  /**
   * Fewest rows for each leading value: SQLite's break-even, "about 18" (optoverview, section 9).
   */
  private static final double SKIP_LEAST_DUPLICATES = 18;

  private final Table table;
  private final Dialect dialect;
  private final TableProfile profile;
  private final ScanRules rules;
  private final ScanEstimator estimator;
  private final KeyMatcher keyMatcher;
  private final OrderMatcher orderMatcher;
  private final ReadingDirection direction;

  CandidateBuilder(Table table, Dialect dialect, TableProfile profile) {
    this.table = table;
    this.dialect = dialect;
    this.profile = profile;
    this.rules = ScanRules.of(dialect);
    this.estimator = new ScanEstimator(profile, rules.inclusiveEnds().value());
    this.keyMatcher = new KeyMatcher(table, dialect);
    this.orderMatcher = new OrderMatcher(table, dialect);
    this.direction = new ReadingDirection(rules, orderMatcher);
  }

  /** The numbers of the table. */
  TableProfile profile() {
    return profile;
  }

  /** Reading the table itself: whole, or by its row number where that is the primary key. */
  Candidate table(Demand demand, BlockTraits traits) {
    Optional<Index> rowNumber = rowNumber();
    if (rowNumber.isPresent()) {
      Candidate direct = index(rowNumber.get(), demand, traits);
      if (!direct.isUnusable()) {
        return withoutIndex(direct);
      }
    }
    ScanEstimator.Priced priced = estimator.tableScan(demand, traits);
    return new Candidate(
        Optional.empty(),
        AccessPath.FULL_TABLE_SCAN,
        List.of(),
        List.of(),
        demand.conditions(),
        false,
        List.of(),
        asked(demand.order().isEmpty(), false),
        asked(demand.grouping().isEmpty(), false),
        "every row is read",
        priced.estimate(),
        priced.cost());
  }

  /** An integer primary key without an index of its own is the row number. */
  private Optional<Index> rowNumber() {
    boolean keyed =
        table.primaryKey().size() == 1
            && IndexEntry.isRowNumber(
                KeyColumn.ascending(table.primaryKey().get(0).text()), table, dialect)
            && table.indexes().stream().noneMatch(i -> i.origin() == IndexOrigin.PRIMARY_KEY);
    if (!keyed) {
      return Optional.empty();
    }
    Identifier column = table.primaryKey().get(0);
    return Optional.of(
        new Index(
            column,
            table.name(),
            true,
            List.of(KeyColumn.of(new ColumnRef(ColumnRef.SELF, column), false)),
            List.of(),
            Optional.empty(),
            Optional.empty(),
            IndexMethod.BTREE,
            true,
            IndexOrigin.PRIMARY_KEY,
            table.location()));
  }

  private static Candidate withoutIndex(Candidate direct) {
    return new Candidate(
        Optional.empty(),
        direct.path(),
        direct.matching(),
        direct.screening(),
        direct.residual(),
        direct.covering(),
        direct.missing(),
        direct.orderServed(),
        direct.groupingServed(),
        direct.remark(),
        direct.estimate(),
        direct.cost());
  }

  /** Reading through an index, real or thought of. */
  Candidate index(Index index, Demand demand, BlockTraits traits) {
    if (index.predicate().isPresent()) {
      Implication implication = new Implication(dialect.features().partial().value());
      if (!implication.implies(demand.conditions(), index.predicate().get())) {
        return unusable(
            index, demand, traits, "the query does not imply the predicate of this partial index");
      }
    }
    IndexEntry entry = IndexEntry.of(index, table, dialect);
    KeyMatch match = direction.asRead(entry, demand, keyMatcher.match(entry, demand), traits);
    if (keyMatcher.mayMissRows(entry, demand, match)) {
      return unusable(
          index, demand, traits, "rows whose key columns are all NULL have no entry in this index");
    }
    List<Identifier> missing = missing(entry, demand);
    boolean covering =
        missing.isEmpty()
            && !demand.wholeRow()
            && dialect.features().indexOnly().value()
            && index.method() == IndexMethod.BTREE;
    EntryFilter filter = EntryFilter.of(entry, demand, match, covering, dialect);
    JoinRules joined = JoinRules.of(dialect);
    boolean reaches =
        (!traits.outerJoin() || joined.outerJoin().value())
            && (!traits.derivedJoined() || joined.derivedTable().value());
    Optional<KeyMatch> jumping = jumping(entry, demand, match, covering, traits);
    KeyMatch read = jumping.orElse(match);
    boolean ordered =
        (reaches || orderMatcher.isOrderMoot(demand, match))
            && orderMatcher.servesOrder(
                entry, demand, read, traits.grouped() && !traits.distinct());
    boolean together =
        (!traits.joined() || !traits.distinct() || joined.distinct().value())
            && (!traits.joinedFurther() || joined.groupsOfOuterJoin().value());
    boolean grouped =
        new UniqueRows(table, dialect).areDistinct(demand, traits)
            || ((together || demand.grouping().isEmpty())
                && orderMatcher.servesGrouping(entry, demand, read, traits.distinct())
                && isFirstToGroup(index, demand, traits));
    boolean extreme = readsOneEnd(entry, match, filter, traits);
    ScanEstimator.Offer offer = new ScanEstimator.Offer(covering, ordered, grouped, extreme);
    ScanEstimator.Priced priced = estimator.indexScan(entry, demand, read, filter, offer, traits);
    Optional<KeyMatch> within = withinRange(entry, demand, match);
    if (within.isPresent()) {
      ScanEstimator.Priced skipping =
          estimator.indexScan(entry, demand, within.get(), filter, offer, traits);
      priced = skipping.cost() < priced.cost() ? skipping : priced;
    }
    Optional<AccessPath> path =
        jumping.isPresent()
            ? Optional.of(AccessPath.SKIP_SCAN)
            : path(entry, demand, match, offer, traits, priced.cost());
    if (path.isEmpty()) {
      priced = estimator.tableScan(demand, traits);
    }
    return new Candidate(
        Optional.of(index),
        path.orElse(AccessPath.FULL_TABLE_SCAN),
        match.values(),
        filter.columns(),
        filter.residual(),
        covering,
        missing,
        asked(demand.order().isEmpty(), ordered),
        asked(demand.grouping().isEmpty(), grouped),
        match.remark(),
        priced.estimate(),
        priced.cost());
  }

  /** True where no index that is looked at before this one brings the groups together. */
  private boolean isFirstToGroup(Index index, Demand demand, BlockTraits traits) {
    if (demand.grouping().isEmpty() || !SortRules.of(dialect).firstGroupingIndex().value()) {
      return true;
    }
    List<Index> all = new ArrayList<>(rowNumber().stream().toList());
    table.indexes().stream().filter(it -> it.origin() == IndexOrigin.PRIMARY_KEY).forEach(all::add);
    table.indexes().stream().filter(it -> it.origin() != IndexOrigin.PRIMARY_KEY).forEach(all::add);
    return all.stream()
        .takeWhile(it -> !it.name().equals(index.name()))
        .map(it -> IndexEntry.of(it, table, dialect))
        .noneMatch(
            it ->
                orderMatcher.servesGrouping(
                    it, demand, keyMatcher.match(it, demand), traits.distinct()));
  }

  private Candidate unusable(Index index, Demand demand, BlockTraits traits, String remark) {
    Candidate scan = table(demand, traits);
    ScanEstimator.Priced priced = estimator.tableScan(demand, traits);
    return new Candidate(
        Optional.of(index),
        AccessPath.FULL_TABLE_SCAN,
        List.of(),
        List.of(),
        demand.conditions(),
        false,
        missing(IndexEntry.of(index, table, dialect), demand),
        scan.orderServed(),
        scan.groupingServed(),
        remark,
        priced.estimate(),
        priced.cost());
  }

  private static Optional<Boolean> asked(boolean notAsked, boolean served) {
    return notAsked ? Optional.empty() : Optional.of(served);
  }

  /**
   * Columns needed that the entry does not hold. A column that is needed only for conditions which
   * the index's own predicate guarantees is not missing.
   */
  private List<Identifier> missing(IndexEntry entry, Demand demand) {
    Set<Predicate> guaranteed = new LinkedHashSet<>();
    PredicateCover cover = dialect.features().predicateCovers().value();
    entry.index().predicate().stream()
        .flatMap(predicate -> Conditions.conjuncts(predicate).stream())
        .filter(term -> isCovered(term, cover))
        .forEach(guaranteed::add);
    demand.conditions().stream().filter(this::isAlwaysTrue).forEach(guaranteed::add);
    List<Identifier> missing = new ArrayList<>();
    for (Identifier column : demand.neededColumns()) {
      ColumnRef ref = new ColumnRef(ColumnRef.SELF, column);
      boolean guaranteedOnly =
          !guaranteed.isEmpty()
              && !demand.outputColumns().contains(column)
              && demand.conditions().stream()
                  .filter(condition -> condition.columns().contains(ref))
                  .allMatch(guaranteed::contains);
      boolean computedOnly =
          dialect.features().expressionCoversItself().value()
              && entry.index().predicate().isEmpty()
              && EntryFilter.readsOnlyWithin(entry, demand, ref);
      if (!entry.held().contains(column) && !guaranteedOnly && !computedOnly) {
        missing.add(column);
      }
    }
    return missing;
  }

  private boolean isAlwaysTrue(Predicate condition) {
    return BooleanRules.of(dialect).notNullDropped().value()
        && condition instanceof NullTest test
        && test.negated()
        && test.operand() instanceof ColumnRef column
        && Operands.isSelf(column)
        && !table.isNullable(column.column());
  }

  private boolean isCovered(Predicate term, PredicateCover cover) {
    return switch (cover) {
      case NONE -> false;
      case EQUALITIES ->
          term instanceof Comparison comparison
              && comparison.operator() == ComparisonOperator.EQUAL
              && isBytewise(comparison.left());
      case ALL -> true;
    };
  }

  /** False where a collation lets values be equal that are not the same. */
  private boolean isBytewise(Expression value) {
    return value instanceof ColumnRef column
        && table
            .column(column.column())
            .flatMap(Column::collation)
            .map(collation -> collation.equalsIgnoreCase("binary"))
            .orElse(true);
  }

  /** MIN or MAX of the column behind the equalities: the first or last entry answers. */
  private static boolean readsOneEnd(
      IndexEntry entry, KeyMatch match, EntryFilter filter, BlockTraits traits) {
    if (traits.extreme().isEmpty()
        || entry.index().method() != IndexMethod.BTREE
        || !filter.screened().isEmpty()
        || !filter.residual().isEmpty()) {
      return false;
    }
    int next = 0;
    while (next < match.matched().size()
        && (match.matched().get(next).kind() == Kind.EQUALITY
            || match.matched().get(next).kind() == Kind.IS_NULL)) {
      next++;
    }
    boolean restIsRangeOnIt =
        next == match.matched().size()
            || (next == match.matched().size() - 1
                && match.values().get(next).equals(traits.extreme().get()));
    return restIsRangeOnIt
        && next < entry.search().size()
        && entry.search().get(next).value().equals(traits.extreme().get());
  }

  private Optional<AccessPath> path(
      IndexEntry entry,
      Demand demand,
      KeyMatch match,
      ScanEstimator.Offer offer,
      BlockTraits traits,
      double cost) {
    if (match.unique()) {
      return Optional.of(AccessPath.UNIQUE_LOOKUP);
    }
    if (!match.values().isEmpty()) {
      return Optional.of(
          offer.covering() ? AccessPath.INDEX_ONLY_RANGE_SCAN : AccessPath.RANGE_SCAN);
    }
    if (entry.index().method() != IndexMethod.BTREE) {
      return Optional.empty();
    }
    boolean orderPays =
        offer.ordered()
            && !demand.order().isEmpty()
            && cost < estimator.tableScan(demand, traits).cost();
    boolean wholeIndex =
        (offer.covering() && !entry.clustered())
            || entry.index().predicate().isPresent()
            || offer.extreme()
            || orderPays;
    return wholeIndex ? Optional.of(AccessPath.FULL_INDEX_SCAN) : Optional.empty();
  }

  /** The scan that jumps from one value of the unbound leading column to the next, if it pays. */
  private Optional<KeyMatch> jumping(
      IndexEntry entry, Demand demand, KeyMatch match, boolean covering, BlockTraits traits) {
    if (!match.values().isEmpty()
        || entry.search().size() < 2
        || entry.index().method() != IndexMethod.BTREE) {
      return Optional.empty();
    }
    List<Bound> second = demand.boundsOn(entry.search().get(1).value());
    Estimate leading = profile.distinct(entry.search().get(0).value());
    boolean few =
        leading.confidence() != Confidence.ASSUMED
            && leading.value() <= SKIP_MOST_VALUES
            && profile.rows().value() >= SKIP_LEAST_DUPLICATES * leading.value();
    boolean range =
        second.stream().anyMatch(b -> b.kind() == Kind.OPEN_RANGE || b.kind() == Kind.CLOSED_RANGE);
    boolean can =
        switch (dialect.matching().skipScan().value()) {
          case NONE -> false;
          case FEW_LEADING_VALUES, WITH_STATISTICS -> true;
          case COVERING_RANGE -> range && covering && traits.singleTable() && !traits.grouped();
        };
    return second.isEmpty() || !few || !can
        ? Optional.empty()
        : Optional.of(match.jumping(second.get(0), leading.value()));
  }

  /** The scan that jumps from value to value within the range that ends the match. */
  private Optional<KeyMatch> withinRange(IndexEntry entry, Demand demand, KeyMatch match) {
    int next = match.values().size();
    if (!rules.skipsBehindRange().value() || next == 0 || next >= entry.search().size()) {
      return Optional.empty();
    }
    Bound last = match.matched().get(next - 1);
    List<Bound> behind = demand.boundsOn(entry.search().get(next).value());
    Estimate distinct = profile.distinct(match.values().get(next - 1));
    boolean range = last.kind() == Kind.OPEN_RANGE || last.kind() == Kind.CLOSED_RANGE;
    if (!range || behind.isEmpty() || distinct.confidence() == Confidence.ASSUMED) {
      return Optional.empty();
    }
    double values = distinct.value() * profile.selectivity(last.origins()).value();
    return Optional.of(match.within(behind.get(0), Math.max(1, values)));
  }
}
