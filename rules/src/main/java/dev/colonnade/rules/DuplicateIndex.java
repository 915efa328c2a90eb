package dev.colonnade.rules;

import dev.colonnade.design.SurplusIndexes;
import dev.colonnade.design.SurplusIndexes.Surplus;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.ProductionCaution;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion.DropIndex;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.SchemaRule;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import java.util.List;

/**
 * Reports an index that repeats another one: same key in the same order, or reversed throughout
 * where the database reads backwards; same predicate, included columns and kind.
 *
 * <p>Silent about a unique index beside a non-unique one, and about indexes that constraints own,
 * except a unique constraint that somebody wrote on the columns of the primary key or of another
 * unique constraint.
 */
final class DuplicateIndex implements SchemaRule {
  static final RuleMetadata METADATA =
      RuleMetadata.rule(DuplicateIndex.class)
          .summary("another index holds the same entries in the same order")
          .category(Category.SURPLUS)
          .severity(Severity.ERROR)
          .since("0.1")
          .build();

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public List<Finding> check(Table table, RuleContext context) {
    return new SurplusIndexes(table, context.dialect())
        .duplicates().stream().map(surplus -> finding(table, surplus, context)).toList();
  }

  private static Finding finding(Table table, Surplus surplus, RuleContext context) {
    Index index = surplus.index();
    Index keeper = surplus.keeper();
    int readers = context.usesOf(table, index).size();
    Finding.Builder finding = context.finding(METADATA, index);
    finding
        .line(Label.QUERY, SurplusText.readers(context.usesOf(table, index)))
        .line(Label.INDEX, SurplusText.describe(index))
        .line(Label.INDEX, SurplusText.describe(keeper))
        .line(
            Label.PRICE,
            "none for reading; every write saves one index"
                + (readers == 0
                    ? ""
                    : ", and "
                        + PathText.count(readers, "read goes", "reads go")
                        + " through "
                        + keeper.name()
                        + " unchanged"))
        .line(Label.CAUTION, ProductionCaution.dropping(context.dialect()));
    if (index.origin().isConstraint()) {
      finding.line(
          Label.FIX,
          "drop the constraint behind "
              + index.name()
              + ", unless a foreign key refers to it: "
              + keeper.name()
              + " enforces the same");
    } else {
      DropIndex drop = new DropIndex(index);
      finding.line(Label.FIX, drop.render()).suggest(drop);
    }
    return finding.build(index.name() + " repeats " + keeper.name() + " on " + table.name());
  }
}
