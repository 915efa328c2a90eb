package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.ColumnOrders;
import dev.colonnade.design.NarrowOrders;
import dev.colonnade.design.ProposedIndex;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.CreateIndex;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import dev.colonnade.rule.Turned;
import dev.colonnade.schema.Index;
import java.util.List;
import java.util.Optional;

/**
 * Reports a sort that an index with the order's columns behind the equalities would spare.
 *
 * <pre>
 * berth_id = ? order by starts_at limit 10
 * (berth_id)             every booking of the berth is read and sorted
 * (berth_id, starts_at)  ten entries are read
 * </pre>
 *
 * <p>Silent where sorting is cheap: without a limit, when few rows are sorted; where one row at
 * most is found. Silent where the database sorts all the same, as some do behind an equality, and
 * where the table is read as a whole for want of an index on the conditions: that is missing-index.
 */
final class OrderNotServed implements QueryRule {
  static final RuleOption<Long> MINIMUM_ROWS =
      RuleOption.ofLong(
          "minimumRows", 1_000, "rows from which a sort without limit is worth a line");

  static final RuleMetadata METADATA =
      RuleMetadata.rule(OrderNotServed.class)
          .summary("rows are sorted that an index could deliver in order")
          .category(Category.SHAPE)
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
    Candidate now = access.chosen();
    boolean pays =
        access.block().limit().isPresent()
            || now.estimate().rows() >= context.option(METADATA, MINIMUM_ROWS);
    if (!now.orderServed().equals(Optional.of(false))
        || !pays
        || now.path() == AccessPath.UNIQUE_LOOKUP
        || lacksIndex(access)
        || Turned.of(context, query, access).isPresent()) {
      return Optional.empty();
    }
    List<Identifier> order =
        access.demand().order().stream()
            .flatMap(item -> item.expression().columns().stream())
            .map(ColumnRef::column)
            .toList();
    Optional<dev.colonnade.design.ColumnOrder> best =
        NarrowOrders.best(
            access,
            ColumnOrders.of(context.analyzer(), access).stream()
                .filter(found -> found.candidate().orderServed().equals(Optional.of(true)))
                .filter(found -> found.candidate().matching().containsAll(equalities(access)))
                .toList());
    if (best.isEmpty()) {
      return Optional.empty();
    }
    Suggestion suggestion =
        suggestion(access, context, ProposedIndex.withFreeName(access.table(), best.get().index()));
    if (!Remedy.helps(context, query, access.table(), suggestion)) {
      return Optional.empty();
    }
    Finding.Builder finding =
        Lines.now(METADATA, query, access, context, order, Lines.shortcomingOfChosen(access));
    return Optional.of(
        Lines.remedy(finding, query, access, context, suggestion, best.get().candidate())
            .build(METADATA.summary()));
  }

  /** What bounds the scan to single values now must do so still. */
  private static List<Expression> equalities(TableAccess access) {
    return access.chosen().matching().stream()
        .filter(value -> access.demand().boundsOn(value).stream().anyMatch(b -> b.kind().isPoint()))
        .toList();
  }

  /** The index in use grows where the proposal begins with it; otherwise a new one is made. */
  private static Suggestion suggestion(TableAccess access, RuleContext context, Index proposed) {
    Optional<Index> used = access.chosen().index();
    if (used.isPresent()
        && used.get().keyColumns().size() <= proposed.keyColumns().size()
        && proposed
            .keyColumns()
            .subList(0, used.get().keyColumns().size())
            .equals(used.get().keyColumns())) {
      return Remedy.replaceOrCreate(context, access.table(), used.get(), proposed);
    }
    return new CreateIndex(proposed);
  }

  private static boolean lacksIndex(TableAccess access) {
    AccessPath path = access.chosen().path();
    return (path == AccessPath.FULL_TABLE_SCAN || path == AccessPath.FULL_INDEX_SCAN)
        && !access.demand().bounds().isEmpty();
  }
}
