package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.Gain;
import dev.colonnade.design.Widening;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.ReplaceIndex;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import dev.colonnade.rule.Turned;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.TypeFamily;
import java.util.Optional;

/**
 * Reports a range scan that fetches many rows for the sake of a few small columns that the index
 * could hold.
 *
 * <pre>
 * sum(amount) where vessel_id = ?
 * (vessel_id)          range-scan: one row fetched for each entry
 * (vessel_id, amount)  index-only-range-scan
 * </pre>
 *
 * <p>Silent when the row itself is needed, when the database cannot answer from an index alone,
 * when the columns are many or large, and when few pages would be saved; where a constraint owns
 * the index or others need it as it is, a second one has to save many.
 */
final class Covering implements QueryRule {
  /**
   * Where the index has to stay as it is, a second one costs at every write: it has to save so many
   * times more. Our own choice.
   */
  private static final double SECOND_INDEX = 10;

  static final RuleOption<Long> MAXIMUM_COLUMNS =
      RuleOption.ofLong("maximumColumns", 2, "most columns that an index is widened by");

  static final RuleOption<Long> MINIMUM_PAGES =
      RuleOption.ofLong("minimumPages", 20, "fewest pages of the table to be saved by a query");

  static final RuleMetadata METADATA =
      RuleMetadata.rule(Covering.class)
          .summary("rows are fetched for columns that the index could hold")
          .category(Category.SHAPE)
          .severity(Severity.NOTE)
          .since("0.1")
          .options(MAXIMUM_COLUMNS, MINIMUM_PAGES)
          .build();

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public Optional<Finding> check(QueryAccess query, TableAccess access, RuleContext context) {
    Candidate now = access.chosen();
    if (now.path() != AccessPath.RANGE_SCAN
        || !access.branches().isEmpty()
        || access.demand().wholeRow()
        || !context.dialect().features().indexOnly().value()
        || now.missing().isEmpty()
        || now.missing().size() > context.option(METADATA, MAXIMUM_COLUMNS)
        || now.missing().stream().anyMatch(column -> isLarge(access, column))
        || Turned.of(context, query, access).isPresent()) {
      return Optional.empty();
    }
    Index index = now.index().orElseThrow();
    Index wider = Widening.of(access.table(), index, now.missing(), context.dialect());
    Candidate then = context.evaluate(access, wider);
    double saved =
        (now.estimate().tablePages() - then.estimate().tablePages())
            * Math.max(1, access.executions());
    Suggestion suggestion = Remedy.replaceOrCreate(context, access.table(), index, wider);
    double price = suggestion instanceof ReplaceIndex ? 1 : SECOND_INDEX;
    if (!then.covering()
        || saved < price * context.option(METADATA, MINIMUM_PAGES)
        || !Gain.isWorthwhile(access, then)
        || !Remedy.helps(context, query, access.table(), suggestion)) {
      return Optional.empty();
    }
    Finding.Builder finding =
        Lines.now(
            METADATA, query, access, context, now.missing(), Lines.shortcomingOfChosen(access));
    return Optional.of(
        Lines.remedy(finding, query, access, context, suggestion, then).build(METADATA.summary()));
  }

  private static boolean isLarge(TableAccess access, Identifier column) {
    TypeFamily family =
        access.table().column(column).map(c -> c.type().family()).orElse(TypeFamily.OTHER);
    return family == TypeFamily.LARGE_OBJECT || family == TypeFamily.OTHER;
  }
}
