package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.Gain;
import dev.colonnade.design.SurplusIndexes;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.ProductionCaution;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion.DropIndex;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.IndexUse;
import dev.colonnade.rule.KeysWithoutIndex;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import dev.colonnade.rule.SchemaRule;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.Table;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * Reports an index that no query of the service, no constraint and no check of a foreign key needs.
 *
 * <p>Needs are read widely: an index that could bound, order or cover a query that is read in
 * another way today is not reported, unless that other way is bound by all the same values or finds
 * one row by its key. Counting rows needs no index that is hardly smaller than the next. Silent
 * where no query reads the table at all (then others do, or nobody); for unique, clustered and
 * special indexes; for those that another rule reports as surplus or as led by the wrong column;
 * and altogether where less than 95 % of the queries that somebody wrote were understood. A note
 * where less than all were.
 */
final class UnreadIndex implements SchemaRule {
  static final RuleOption<Double> MINIMUM_UNDERSTOOD =
      RuleOption.ofDouble(
          "minimumUnderstood",
          0.95,
          "share of the written queries understood below which nothing is said");

  static final RuleMetadata METADATA =
      RuleMetadata.rule(UnreadIndex.class)
          .summary("no query, no constraint and no foreign key needs this index")
          .category(Category.SURPLUS)
          .severity(Severity.WARNING)
          .since("0.1")
          .options(MINIMUM_UNDERSTOOD)
          .build();

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public List<Finding> check(Table table, RuleContext context) {
    List<IndexUse> uses = context.usesOf(table);
    if (uses.isEmpty()
        || context.shareUnderstood() < context.option(METADATA, MINIMUM_UNDERSTOOD)) {
      return List.of();
    }
    Set<Index> surplus = new HashSet<>();
    SurplusIndexes indexes = new SurplusIndexes(table, context.dialect());
    indexes.duplicates().forEach(pair -> surplus.add(pair.index()));
    indexes.prefixes().forEach(pair -> surplus.add(pair.index()));
    return table.indexes().stream()
        .filter(UnreadIndex::isPlain)
        .filter(index -> !surplus.contains(index))
        .filter(index -> !servesForeignKey(table, index))
        .filter(index -> uses.stream().noneMatch(use -> mayServe(use.access(), index)))
        .filter(index -> uses.stream().noneMatch(use -> bindsLater(use.access(), index)))
        .map(index -> finding(index, uses, context))
        .toList();
  }

  private static boolean isPlain(Index index) {
    return !index.origin().isConstraint()
        && !index.unique()
        && !index.clustered()
        && index.method() == IndexMethod.BTREE;
  }

  private static boolean servesForeignKey(Table table, Index index) {
    return table.foreignKeys().stream()
        .anyMatch(key -> KeysWithoutIndex.serves(index, key.columns()));
  }

  private static boolean mayServe(TableAccess access, Index index) {
    boolean branch =
        access.branches().stream()
            .anyMatch(it -> it.index().map(Index::name).equals(Optional.of(index.name())));
    boolean chosen = access.chosen().index().map(Index::name).equals(Optional.of(index.name()));
    if (branch || chosen) {
      return branch || !isAnyIndexAsGood(access);
    }
    Candidate now = access.chosen();
    if (now.path() == AccessPath.UNIQUE_LOOKUP) {
      return false;
    }
    return access.candidates().stream()
        .filter(it -> it.index().map(Index::name).equals(Optional.of(index.name())))
        .anyMatch(
            it ->
                !now.matching().containsAll(it.matching())
                    || isGained(it.orderServed(), now.orderServed())
                    || isGained(it.groupingServed(), now.groupingServed())
                    || (it.covering() && !now.covering()));
  }

  /**
   * True where rows are only counted, so that any index can be read in place of the smallest, and
   * the next one costs hardly more.
   */
  private static boolean isAnyIndexAsGood(TableAccess access) {
    Candidate chosen = access.chosen();
    return access.demand().neededColumns().isEmpty()
        && chosen.path() == AccessPath.FULL_INDEX_SCAN
        && chosen.index().orElseThrow().predicate().isEmpty()
        && access.candidates().stream()
            .filter(it -> !it.index().equals(chosen.index()) && it.covering() && !it.isUnusable())
            .anyMatch(it -> !Gain.isWorthwhile(it, chosen, access.executions()));
  }

  private static boolean isGained(Optional<Boolean> there, Optional<Boolean> now) {
    return there.equals(Optional.of(true)) && !now.equals(Optional.of(true));
  }

  /** An index whose later columns are asked for: leading-column speaks of it. */
  private static boolean bindsLater(TableAccess access, Index index) {
    return index.keyColumns().stream()
        .skip(1)
        .anyMatch(part -> !access.demand().boundsOn(part.value()).isEmpty());
  }

  private static Finding finding(Index index, List<IndexUse> uses, RuleContext context) {
    DropIndex drop = new DropIndex(index);
    long queries = uses.stream().map(use -> use.query().query().id()).distinct().count();
    double share = context.shareUnderstood();
    Finding.Builder finding =
        context
            .finding(METADATA, index)
            .line(
                Label.QUERY,
                "none of the "
                    + queries
                    + " analysed queries that read "
                    + index.table()
                    + " has use of it; "
                    + String.format(Locale.ROOT, "%.1f %%", Math.floor(share * 1000) / 10)
                    + " of the queries written in the service were understood")
            .line(Label.INDEX, SurplusText.describe(index))
            .line(Label.FIX, drop.render())
            .line(Label.PRICE, "none known; every write saves one index")
            .line(
                Label.CAUTION,
                "queries that the service puts together at run time, with criteria for instance,"
                    + " are not among them")
            .line(Label.CAUTION, ProductionCaution.dropping(context.dialect()))
            .suggest(drop)
            .assumed(share < 1);
    if (share < 1) {
      finding.atMost(Severity.NOTE);
    }
    return finding.build(index.name() + " on " + index.table() + " serves no query of the service");
  }
}
