package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Bound;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.Gain;
import dev.colonnade.design.ProposedIndex;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.CreateIndex;
import dev.colonnade.finding.Suggestion.RewritePredicate;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Reports a condition on a function, an arithmetic term or a cast of a column: an index on the
 * column is in the order of the column, not of the term.
 *
 * <pre>
 * lower(name) = ?                        no index on name bounds this
 * date(starts_at) = ?                    starts_at >= ? and starts_at < ? says the same
 * </pre>
 *
 * <p>Silent where an index on that very term exists, where the row is looked up by a unique key
 * anyway, and where an index on the term would save little.
 */
final class WrappedColumn implements QueryRule {
  static final RuleMetadata METADATA =
      RuleMetadata.rule(WrappedColumn.class)
          .summary("a function or term around a column keeps its index from being used")
          .category(Category.CONDITION)
          .severity(Severity.WARNING)
          .since("0.1")
          .build();

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public Optional<Finding> check(QueryAccess query, TableAccess access, RuleContext context) {
    if (access.chosen().path() == AccessPath.UNIQUE_LOOKUP || !access.branches().isEmpty()) {
      return Optional.empty();
    }
    return access.demand().bounds().stream()
        .filter(bound -> bound.value() instanceof Call)
        .filter(bound -> !isIndexed(access, bound.value()))
        .map(bound -> finding(query, access, context, bound))
        .flatMap(Optional::stream)
        .findFirst();
  }

  private static boolean isIndexed(TableAccess access, Expression value) {
    return access.table().indexes().stream()
        .flatMap(index -> index.keyColumns().stream())
        .anyMatch(part -> part.value().equals(value));
  }

  private static Optional<Finding> finding(
      QueryAccess query, TableAccess access, RuleContext context, Bound bound) {
    List<KeyColumn> key = new ArrayList<>();
    access.chosen().matching().stream()
        .filter(value -> isPoint(access, value))
        .forEach(value -> key.add(KeyColumn.of(value, false)));
    key.add(KeyColumn.of(bound.value(), false));
    Index index = ProposedIndex.of(access.table(), key, List.of(), false);
    Candidate then = context.evaluate(access, index);
    Suggestion suggestion = new CreateIndex(index);
    if (!Gain.isWorthwhile(access, then)
        || !Remedy.helps(context, query, access.table(), suggestion)) {
      return Optional.empty();
    }
    List<Identifier> columns =
        bound.value().columns().stream().map(ColumnRef::column).sorted().toList();
    String rewriting = Rewriting.of((Call) bound.value());
    Finding.Builder finding =
        Lines.now(METADATA, query, access, context, columns, inTheWay(access, bound.value()))
            .line(Label.FIX, rewriting)
            .suggest(new RewritePredicate(rewriting));
    if (context.dialect().features().expressions().value()) {
      Lines.remedy(finding, query, access, context, suggestion, then);
    }
    return Optional.of(finding.build(METADATA.summary()));
  }

  private static boolean isPoint(TableAccess access, Expression value) {
    return access.demand().bounds().stream()
        .anyMatch(bound -> bound.value().equals(value) && bound.kind().isPoint());
  }

  /** The indexes that would serve if the column stood alone. */
  private static List<String> inTheWay(TableAccess access, Expression value) {
    return access.table().indexes().stream()
        .filter(index -> value.columns().contains(index.keyColumns().get(0).value()))
        .map(
            index ->
                index.render()
                    + ": sorted by "
                    + index.keyColumns().get(0).value().render()
                    + ", not by "
                    + value.render())
        .toList();
  }
}
