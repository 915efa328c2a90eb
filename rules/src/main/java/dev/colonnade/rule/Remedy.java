package dev.colonnade.rule;

import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.design.ProposedIndex;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.CreateIndex;
import dev.colonnade.finding.Suggestion.ReplaceIndex;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.List;
import java.util.Optional;

/** Whether a proposed index can take the place of an existing one or has to stand beside it. */
public final class Remedy {
  private Remedy() {}

  /**
   * Replaces the old index where nothing is lost by it: no constraint owns it, uniqueness stays
   * enforced, no analysed query gets worse, no foreign key loses its index. Creates the new one
   * otherwise, not unique: the old one stays and enforces that.
   */
  public static Suggestion replaceOrCreate(
      RuleContext context, Table table, Index old, Index replacement) {
    boolean replaceable =
        old.origin() == IndexOrigin.CREATE_INDEX
            && !old.clustered()
            && (!old.unique() || replacement.unique())
            && keepsForeignKeys(table, old, replacement)
            && context.usesOf(table, old).stream()
                .noneMatch(
                    use ->
                        getsWorse(
                            context, use, table, replacement, new ReplaceIndex(old, replacement)));
    return replaceable
        ? new ReplaceIndex(old, replacement)
        : new CreateIndex(ProposedIndex.notUnique(replacement));
  }

  /**
   * True when the index that stays serves the use worse than the one that goes; or serves it as
   * well but dearer, so that the query is read in another, worse way.
   */
  public static boolean getsWorse(
      RuleContext context, IndexUse use, Table table, Index staying, Suggestion change) {
    Candidate then = context.evaluate(use.access(), staying);
    if (PathComparison.isWorse(then, use.candidate())) {
      return true;
    }
    return then.cost() > use.candidate().cost()
        && context.analyzeWith(use.query(), change.applyTo(table)).tables().stream()
            .filter(after -> after.use().use() == use.access().use().use())
            .filter(after -> after.chosen().cost() > use.access().chosen().cost())
            .anyMatch(after -> PathComparison.isWorse(after.chosen(), use.access().chosen()));
  }

  /**
   * True when the whole query, joins included, would cost less with the suggestion in place. A
   * proposal can be better for one table alone and still not be taken, or not pay.
   */
  public static boolean helps(
      RuleContext context, QueryAccess query, Table table, Suggestion suggestion) {
    return context.analyzeWith(query, suggestion.applyTo(table)).cost() < query.cost();
  }

  /** What a suggested index costs beside the space. */
  public static String price(Suggestion suggestion) {
    return suggestion instanceof ReplaceIndex
        ? "every write keeps as many indexes as before"
        : "every write to the table maintains one index more";
  }

  private static boolean keepsForeignKeys(Table table, Index old, Index replacement) {
    return table.foreignKeys().stream()
        .allMatch(key -> !leads(old, key.columns()) || leads(replacement, key.columns()));
  }

  /** True when the key begins with these columns in this order. */
  public static boolean leads(Index index, List<Identifier> columns) {
    if (index.keyColumns().size() < columns.size()) {
      return false;
    }
    for (int i = 0; i < columns.size(); i++) {
      KeyColumn part = index.keyColumns().get(i);
      if (!part.column().equals(Optional.of(columns.get(i)))) {
        return false;
      }
    }
    return true;
  }
}
