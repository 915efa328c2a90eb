package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Bound;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.ColumnOrders;
import dev.colonnade.design.NarrowOrders;
import dev.colonnade.design.ProposedIndex;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.CreateIndex;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate.OpaquePredicate;
import dev.colonnade.query.QuerySource;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.KeysWithoutIndex;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import dev.colonnade.rule.Turned;
import java.util.List;
import java.util.Optional;

/**
 * Reports a table that is read as a whole although conditions bind columns of it, because no index
 * leads with one of them.
 *
 * <pre>
 * berth_id = ?   now: full-table-scan   with (berth_id): range-scan
 * </pre>
 *
 * <p>Silent when the table is declared small, when a condition on it is opaque (the one that was
 * not read may be the selective one), when an index could bound the scan and reading the whole
 * table is cheaper all the same, and when an existing index only has its columns in the wrong
 * order. Silent, too, about a look-up by a foreign key that nobody wrote: what lacks there is said
 * once, by unindexed-foreign-key.
 */
final class MissingIndex implements QueryRule {
  static final RuleOption<Long> MINIMUM_ROWS =
      RuleOption.ofLong("minimumRows", 1_000, "declared rows from which a table is worth an index");

  static final RuleMetadata METADATA =
      RuleMetadata.rule(MissingIndex.class)
          .summary("no index leads with a column that this query binds")
          .category(Category.LACKING)
          .severity(Severity.WARNING)
          .since("0.1")
          .options(MINIMUM_ROWS)
          .build();

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public Optional<Finding> check(QueryAccess query, TableAccess access, RuleContext context) {
    List<Identifier> bound =
        access.demand().bounds().stream()
            .filter(b -> b.kind() != Bound.Kind.IS_NOT_NULL && b.value() instanceof ColumnRef)
            .map(b -> ((ColumnRef) b.value()).column())
            .distinct()
            .sorted()
            .toList();
    if (!isReadWhole(access)
        || bound.isEmpty()
        || access.demand().conditions().stream().anyMatch(OpaquePredicate.class::isInstance)
        || Lines.isDeclaredSmaller(access, context, context.option(METADATA, MINIMUM_ROWS))
        || access.candidates().stream().anyMatch(candidate -> !candidate.matching().isEmpty())
        || Turned.of(context, query, access).isPresent()
        || isForeignKeyUnwritten(query, access, context, bound)) {
      return Optional.empty();
    }
    List<dev.colonnade.design.ColumnOrder> orders =
        ColumnOrders.of(context.analyzer(), access).stream()
            .filter(order -> !order.candidate().matching().isEmpty())
            .toList();
    Optional<dev.colonnade.design.ColumnOrder> best = NarrowOrders.best(access, orders);
    if (best.isEmpty()) {
      return Optional.empty();
    }
    Suggestion suggestion =
        new CreateIndex(ProposedIndex.withFreeName(access.table(), best.get().index()));
    if (!Remedy.helps(context, query, access.table(), suggestion)) {
      return Optional.empty();
    }
    Finding.Builder finding =
        Lines.now(METADATA, query, access, context, bound, Lines.shortcomings(access));
    Lines.remedy(finding, query, access, context, suggestion, best.get().candidate());
    NarrowOrders.covering(best.get(), orders)
        .ifPresent(wider -> finding.line(Label.FIX, Lines.alternative(query, access, wider)));
    return Optional.of(finding.build(METADATA.summary()));
  }

  /** A look-up by a foreign key that nobody wrote: unindexed-foreign-key speaks of it. */
  private static boolean isForeignKeyUnwritten(
      QueryAccess query, TableAccess access, RuleContext context, List<Identifier> bound) {
    return query.query().text().source() == QuerySource.MAPPING
        && KeysWithoutIndex.hasKey(access.table(), context.dialect(), bound);
  }

  private static boolean isReadWhole(TableAccess access) {
    AccessPath path = access.chosen().path();
    return access.branches().isEmpty()
        && (path == AccessPath.FULL_TABLE_SCAN || path == AccessPath.FULL_INDEX_SCAN);
  }
}
