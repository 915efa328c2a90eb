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
 * Reports an index in which a column that a query binds by a range stands before one that it binds
 * by equality: matching ends at the range.
 *
 * <pre>
 * berth_id = ? and starts_at > ?
 * (starts_at, berth_id)  matching starts_at
 * (berth_id, starts_at)  matching berth_id, starts_at
 * </pre>
 */
final class RangeBeforeEquality implements QueryRule {
  static final RuleMetadata METADATA =
      RuleMetadata.rule(RangeBeforeEquality.class)
          .summary("in the index a range of this query stands before an equality and ends matching")
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
        .filter(turned -> turned.reordering().rangeFirst())
        .map(turned -> Lines.turned(METADATA, query, access, context, turned));
  }
}
