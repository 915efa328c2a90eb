package dev.colonnade.rule;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.ColumnOrder;
import dev.colonnade.design.ColumnOrders;
import dev.colonnade.design.Gain;
import dev.colonnade.design.NarrowOrders;
import dev.colonnade.design.ProposedIndex;
import dev.colonnade.finding.Suggestion.CreateIndex;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * A query with conditions of one of its blocks written differently, and how it would be read.
 *
 * @param before the query as it is
 * @param after the query as it would be
 */
public record Variant(QueryAccess before, QueryAccess after) {

  /**
   * Rewrites the conditions of a block.
   *
   * @param rewriting what stands in the place of a condition; empty where it goes
   */
  public static Variant of(
      RuleContext context,
      QueryAccess query,
      QueryBlock block,
      Function<Predicate, Optional<Predicate>> rewriting) {
    List<Conjunct> conjuncts = new ArrayList<>();
    for (Conjunct conjunct : block.conjuncts()) {
      rewriting
          .apply(conjunct.predicate())
          .ifPresent(
              predicate ->
                  Conditions.conjuncts(predicate)
                      .forEach(part -> conjuncts.add(new Conjunct(part, conjunct.restricts()))));
    }
    QueryBlock changed = block.withConjuncts(conjuncts);
    List<QueryBlock> blocks =
        query.query().blocks().stream()
            .map(each -> each.number() == block.number() ? changed : each)
            .toList();
    return new Variant(
        query, context.analyze(new Query(query.query().text(), query.query().kind(), blocks)));
  }

  /** The same use of a table under the other conditions. */
  public TableAccess access(TableAccess access) {
    return after.tables().stream()
        .filter(other -> other.use().use() == access.use().use())
        .findFirst()
        .orElseThrow();
  }

  /** True when this use of a table and the query as a whole become cheaper by a margin. */
  public boolean helps(TableAccess access) {
    return Gain.isWorthwhile(access, access(access).chosen()) && after.cost() < before.cost();
  }

  /**
   * A narrow new index that the query would have use of once it is rewritten, where the existing
   * ones do not help it.
   */
  public Optional<ColumnOrder> newIndex(RuleContext context, TableAccess access) {
    TableAccess then = access(access);
    return NarrowOrders.best(
            then,
            ColumnOrders.of(context.analyzer(), then).stream()
                .filter(order -> !order.candidate().matching().isEmpty())
                .toList())
        .filter(order -> Gain.isWorthwhile(access, order.candidate()))
        .filter(
            order ->
                context
                        .analyzeWith(
                            after,
                            new CreateIndex(
                                    ProposedIndex.withFreeName(access.table(), order.index()))
                                .applyTo(access.table()))
                        .cost()
                    < before.cost());
  }
}
