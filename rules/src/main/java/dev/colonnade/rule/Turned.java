package dev.colonnade.rule;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.Reordering;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.ReplaceIndex;
import java.util.Optional;

/**
 * An index whose columns would serve a query better in another order, and what to do about it.
 *
 * @param reordering the two orders
 * @param suggestion to replace the index, or to have the other order beside it
 */
public record Turned(Reordering reordering, Suggestion suggestion) {
  /**
   * The best other order for a query's use of a table, if the whole query gains by it. Where the
   * index has to stay for others, a second one with all its columns is proposed only if it answers
   * the query alone, or if the query reads that very index now; otherwise a narrow new index is the
   * better advice, and this is empty.
   */
  public static Optional<Turned> of(RuleContext context, QueryAccess query, TableAccess access) {
    return Reordering.best(context.analyzer(), access)
        .map(
            found ->
                new Turned(
                    found,
                    Remedy.replaceOrCreate(
                        context, access.table(), found.index(), found.reordered())))
        .filter(
            turned ->
                turned.suggestion() instanceof ReplaceIndex
                    || turned.reordering().then().covering()
                    || access.chosen().index().equals(Optional.of(turned.reordering().index())))
        .filter(turned -> Remedy.helps(context, query, access.table(), turned.suggestion()));
  }
}
