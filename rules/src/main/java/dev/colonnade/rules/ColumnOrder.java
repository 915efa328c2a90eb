package dev.colonnade.rules;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.Turned;
import java.util.Optional;

/**
 * Reports an index that holds every column a query binds, behind one that the query does not bind.
 *
 * <pre>
 * sum(amount) where vessel_id = ?
 * (amount, vessel_id)  full-index-scan: wanted entries are scattered, every entry is read
 * (vessel_id, amount)  index-only-range-scan: wanted entries stand together
 * </pre>
 *
 * <p>Silent where the order is unlucky because of a range: that is range-before-equality.
 */
final class ColumnOrder implements QueryRule {
  static final RuleMetadata METADATA =
      RuleMetadata.rule(ColumnOrder.class)
          .summary("an index holds the columns that this query binds, in an order that wastes them")
          .category(Category.SHAPE)
          .severity(Severity.WARNING)
          .since("0.1")
          .build();

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public Optional<Finding> check(QueryAccess query, TableAccess access, RuleContext context) {
    return Turned.of(context, query, access)
        .filter(turned -> !turned.reordering().rangeFirst())
        .map(turned -> Lines.turned(METADATA, query, access, context, turned));
  }
}
