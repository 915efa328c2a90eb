package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion.RewritePredicate;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import java.util.List;
import java.util.Optional;

/**
 * Reports a pattern that begins with a wildcard where nothing else bounds the reading of the table:
 * an ordered index is searched from the first character on.
 *
 * <p>Silent where another condition bounds the scan, so that the pattern only filters what is read
 * anyway; for patterns that a parameter brings, which may have a head; where the column has an
 * index of a special kind, made for text; and for tables declared small.
 */
final class LeadingWildcard implements QueryRule {
  static final RuleOption<Long> MINIMUM_ROWS =
      RuleOption.ofLong("minimumRows", 1_000, "declared rows from which a table is worth a word");

  static final RuleMetadata METADATA =
      RuleMetadata.rule(LeadingWildcard.class)
          .summary("a pattern that begins with a wildcard cannot bound an index scan")
          .category(Category.CONDITION)
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
    AccessPath path = access.chosen().path();
    List<Like> patterns =
        access.demand().conditions().stream()
            .filter(Like.class::isInstance)
            .map(Like.class::cast)
            .filter(like -> like.operand() instanceof ColumnRef)
            .filter(like -> like.literalPrefix().equals(Optional.of("")))
            .toList();
    if (patterns.isEmpty()
        || (path != AccessPath.FULL_TABLE_SCAN && path != AccessPath.FULL_INDEX_SCAN)
        || !access.branches().isEmpty()
        || access.candidates().stream().anyMatch(candidate -> !candidate.matching().isEmpty())
        || patterns.stream().anyMatch(like -> hasTextIndex(access, like))
        || Lines.isDeclaredSmaller(access, context, context.option(METADATA, MINIMUM_ROWS))) {
      return Optional.empty();
    }
    String fix =
        "drop the leading wildcard if the beginning is known; an index on the reversed text serves"
            + " a known end, a full-text or trigram index a part in the middle";
    return Optional.of(
        Lines.now(
                METADATA,
                query,
                access,
                context,
                Lines.columns(patterns),
                access.table().indexes().stream()
                    .filter(index -> leadsWith(index, patterns))
                    .map(
                        index ->
                            index.render()
                                + ": sorted from the first character on, which the pattern leaves"
                                + " open")
                    .toList())
            .line(Label.FIX, fix)
            .line(Label.PRICE, "an index for text is several times as large as one for order")
            .suggest(new RewritePredicate(fix))
            .build(METADATA.summary()));
  }

  private static boolean leadsWith(Index index, List<Like> patterns) {
    return patterns.stream()
        .anyMatch(like -> like.operand().equals(index.keyColumns().get(0).value()));
  }

  private static boolean hasTextIndex(TableAccess access, Like like) {
    return access.table().indexes().stream()
        .filter(index -> index.method() != IndexMethod.BTREE)
        .anyMatch(
            index ->
                index.keyColumns().stream()
                    .anyMatch(part -> part.value().columns().equals(like.operand().columns())));
  }
}
