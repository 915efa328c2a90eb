package dev.colonnade.rules;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.Reordering;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import java.util.List;
import java.util.Optional;

/** The finding that follows from an index whose columns would serve better in another order. */
final class ReorderingText {
  private ReorderingText() {}

  static Optional<Finding> finding(
      RuleMetadata rule,
      QueryAccess query,
      TableAccess access,
      RuleContext context,
      Reordering found) {
    Suggestion suggestion =
        Remedy.replaceOrCreate(context, access.table(), found.index(), found.reordered());
    if (!Remedy.helps(context, query, access.table(), suggestion)) {
      return Optional.empty();
    }
    return Optional.of(
        Lines.remedy(
                Lines.now(
                    rule,
                    query,
                    access,
                    context,
                    List.of(found.index().name()),
                    List.of(PathText.shortcoming(found.now()))),
                query,
                access,
                context,
                suggestion,
                found.then())
            .build(rule.summary()));
  }
}
