package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Bound;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.Gain;
import dev.colonnade.design.ProposedIndex;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.ProductionCaution;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.ReplaceIndex;
import dev.colonnade.predicate.Expression;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.IndexUse;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.SchemaRule;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Reports an index whose leading column no query binds although queries bind later ones.
 *
 * <pre>
 * (status, berth_id) and every query asks for berth_id = ?
 * (berth_id, status) would serve them
 * </pre>
 *
 * <p>Silent when a query takes its order from the index, or jumps over the leading column; when a
 * foreign key begins with that column; and when a constraint owns the index. Where turning the key
 * round helps no query, no change is suggested. It rests on an assumption where queries were found
 * that could not be analysed: one of them may bind the column.
 */
final class LeadingColumn implements SchemaRule {
  static final RuleMetadata METADATA =
      RuleMetadata.rule(LeadingColumn.class)
          .summary("no query binds the leading column of this index, though some bind later ones")
          .category(Category.SHAPE)
          .severity(Severity.WARNING)
          .since("0.1")
          .build();

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public List<Finding> check(Table table, RuleContext context) {
    return table.indexes().stream()
        .filter(index -> !index.origin().isConstraint() && index.method() == IndexMethod.BTREE)
        .filter(index -> index.keyColumns().size() > 1 && !servesForeignKey(table, index))
        .map(index -> finding(table, index, context))
        .flatMap(Optional::stream)
        .toList();
  }

  private static boolean servesForeignKey(Table table, Index index) {
    return table.foreignKeys().stream().anyMatch(key -> Remedy.leads(index, key.columns()));
  }

  private static Optional<Finding> finding(Table table, Index index, RuleContext context) {
    Expression leading = index.keyColumns().get(0).value();
    List<IndexUse> uses = context.usesOf(table);
    boolean useful =
        context.usesOf(table, index).stream()
            .anyMatch(
                use ->
                    !use.candidate().matching().isEmpty()
                        || use.candidate().path() == AccessPath.SKIP_SCAN
                        || use.candidate().orderServed().equals(Optional.of(true))
                        || use.candidate().groupingServed().equals(Optional.of(true)));
    if (useful || uses.stream().anyMatch(use -> binds(use.access(), leading))) {
      return Optional.empty();
    }
    List<IndexUse> later =
        uses.stream()
            .filter(
                use ->
                    index.keyColumns().stream().anyMatch(part -> binds(use.access(), part.value())))
            .toList();
    if (later.isEmpty()) {
      return Optional.empty();
    }
    for (IndexUse use : later) {
      Index turned = turned(table, index, use.access());
      Suggestion suggestion = Remedy.replaceOrCreate(context, table, index, turned);
      Candidate then = context.evaluate(use.access(), turned);
      if (suggestion instanceof ReplaceIndex
          && then.matching().size() >= use.candidate().matching().size()
          && Gain.isWorthwhile(use.access(), then)
          && Remedy.helps(context, use.query(), table, suggestion)) {
        return Optional.of(
            start(index, use, context)
                .line(
                    Label.FIX,
                    suggestion.render() + ": " + new PathText(use.query(), use.access()).path(then))
                .line(Label.PRICE, Remedy.price(suggestion))
                .line(Label.CAUTION, ProductionCaution.building(context.dialect()))
                .line(Label.CAUTION, ProductionCaution.dropping(context.dialect()))
                .suggest(suggestion)
                .build(title(index)));
      }
    }
    return Optional.of(
        start(index, later.get(0), context)
            .line(
                Label.FIX,
                "no analysed query gains by turning the key round"
                    + withoutGain(context.usesOf(table, index)))
            .line(Label.PRICE, "none known; every write saves one index")
            .line(Label.CAUTION, ProductionCaution.dropping(context.dialect()))
            .build(title(index)));
  }

  private static Finding.Builder start(Index index, IndexUse use, RuleContext context) {
    PathText text = new PathText(use.query(), use.access());
    return context
        .finding(METADATA, index)
        .line(Label.QUERY, use.query().query().id() + " asks of " + text.demand())
        .line(Label.PATH, text.path(use.access().chosen()))
        .line(Label.INDEX, PathText.shortcoming(context.evaluate(use.access(), index)))
        .assumed(context.shareUnderstood() < 1);
  }

  private static String withoutGain(List<IndexUse> readers) {
    return readers.isEmpty()
        ? ": if nothing else reads the index, it can go"
        : "; " + SurplusText.readers(readers) + ", as a whole";
  }

  private static String title(Index index) {
    return "no query binds "
        + index.keyColumns().get(0).value().render()
        + ", the leading column of "
        + index.name();
  }

  /** The bound columns first: single values, then ranges. */
  private static Index turned(Table table, Index index, TableAccess access) {
    List<KeyColumn> bound =
        index.keyColumns().stream().filter(part -> binds(access, part.value())).toList();
    Set<KeyColumn> key = new LinkedHashSet<>();
    bound.stream().filter(part -> isPoint(access, part.value())).forEach(key::add);
    key.addAll(bound);
    key.addAll(index.keyColumns());
    return ProposedIndex.like(
        table, index, List.copyOf(key), index.includedColumns(), index.unique());
  }

  private static boolean binds(TableAccess access, Expression value) {
    return access.demand().bounds().stream()
        .anyMatch(bound -> bound.value().equals(value) && bound.kind() != Bound.Kind.IS_NOT_NULL);
  }

  private static boolean isPoint(TableAccess access, Expression value) {
    return access.demand().bounds().stream()
        .anyMatch(bound -> bound.value().equals(value) && bound.kind().isPoint());
  }
}
