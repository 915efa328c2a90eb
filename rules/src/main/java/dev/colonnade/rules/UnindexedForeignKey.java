package dev.colonnade.rules;

import dev.colonnade.access.Bound;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.ProposedIndex;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.ProductionCaution;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.CreateIndex;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.ForeignKeyChecks;
import dev.colonnade.query.QuerySource;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.IndexUse;
import dev.colonnade.rule.KeysWithoutIndex;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import dev.colonnade.rule.SchemaRule;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Confidence;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * Reports a foreign key whose columns no index leads with, on databases that make none by
 * themselves.
 *
 * <p>How much it weighs depends on what the service does: a warning where it deletes rows of the
 * parent, which makes the database look for children, or loads the children of a parent; a note
 * where nothing of the kind is seen. Silent for tables declared small, and where another foreign
 * key on the same columns has been reported.
 */
final class UnindexedForeignKey implements SchemaRule {
  static final RuleOption<Long> MINIMUM_ROWS =
      RuleOption.ofLong("minimumRows", 1_000, "declared rows from which a table is worth an index");

  static final RuleMetadata METADATA =
      RuleMetadata.rule(UnindexedForeignKey.class)
          .summary("no index leads with the columns of this foreign key")
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
  public List<Finding> check(Table table, RuleContext context) {
    double rows = context.statistics().table(table.name()).rows().orElse(Double.POSITIVE_INFINITY);
    if (rows < context.option(METADATA, MINIMUM_ROWS)) {
      return List.of();
    }
    return KeysWithoutIndex.of(table, context.dialect()).stream()
        .map(key -> finding(table, key, context))
        .toList();
  }

  private static Finding finding(Table table, ForeignKey key, RuleContext context) {
    Set<String> deleting =
        ForeignKeyChecks.deletedFrom(context.queries().stream().map(QueryAccess::query).toList())
            .getOrDefault(key.referencedTable(), Set.of());
    List<IndexUse> loading =
        context.usesOf(table).stream()
            .filter(use -> isBoundBy(use.access(), key.columns()))
            .toList();
    Suggestion create =
        new CreateIndex(
            ProposedIndex.of(
                table,
                key.columns().stream()
                    .map(column -> KeyColumn.of(new ColumnRef(ColumnRef.SELF, column), false))
                    .toList(),
                List.of(),
                false));
    Finding.Builder finding = context.finding(METADATA, table, key);
    Set<String> readers =
        loading.stream()
            .filter(use -> !isCheck(use))
            .map(use -> use.query().query().id())
            .collect(Collectors.toCollection(TreeSet::new));
    if (!deleting.isEmpty()) {
      finding.line(
          Label.QUERY,
          "each row deleted from "
              + key.referencedTable()
              + " makes the database look for it here: "
              + SurplusText.named(deleting));
    }
    if (!readers.isEmpty()) {
      finding.line(
          Label.QUERY, "children of a row are looked for by " + SurplusText.named(readers));
    }
    if (deleting.isEmpty() && readers.isEmpty()) {
      finding
          .line(
              Label.QUERY,
              "no analysed query deletes from "
                  + key.referencedTable()
                  + " or looks for children of a row")
          .atMost(Severity.NOTE);
    }
    finding.line(Label.INDEX, Lines.indexesOf(table));
    Optional<IndexUse> helped =
        loading.stream()
            .filter(use -> Remedy.helps(context, use.query(), table, create))
            .findFirst();
    if (helped.isPresent()) {
      IndexUse use = helped.get();
      PathText text = new PathText(use.query(), use.access());
      var then = context.evaluate(use.access(), ((CreateIndex) create).index());
      finding
          .line(Label.PATH, text.path(use.access().chosen()))
          .line(Label.FIX, create.render() + ": " + text.path(then))
          .suggest(create)
          .assumed(then.estimate().confidence() == Confidence.ASSUMED);
    } else {
      finding.line(Label.FIX, create.render()).atMost(Severity.NOTE);
    }
    return finding
        .line(Label.PRICE, Remedy.price(create))
        .line(Label.CAUTION, ProductionCaution.building(context.dialect()))
        .build(
            "no index leads with "
                + key.columns().stream().map(Identifier::text).collect(Collectors.joining(", "))
                + " of "
                + table.name()
                + ", which refers to "
                + key.referencedTable());
  }

  private static boolean isCheck(IndexUse use) {
    return use.query().query().text().source() == QuerySource.MAPPING
        && use.query().query().id().contains("#foreign-key(");
  }

  /** True when each column is bound to single values that are known before the table is read. */
  private static boolean isBoundBy(TableAccess access, List<Identifier> columns) {
    return columns.stream()
        .map(column -> (Expression) new ColumnRef(ColumnRef.SELF, column))
        .allMatch(
            value ->
                access.demand().boundsOn(value).stream()
                    .anyMatch(
                        bound ->
                            bound.kind() == Bound.Kind.EQUALITY
                                || bound.kind() == Bound.Kind.IN_LIST));
  }
}
