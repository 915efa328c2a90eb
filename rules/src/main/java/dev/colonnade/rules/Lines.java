package dev.colonnade.rules;

import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.ProductionCaution;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.ReplaceIndex;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.statistics.Confidence;
import java.util.Collection;
import java.util.List;

/** Wording shared by the rules about queries. */
final class Lines {
  private Lines() {}

  /** Starts a finding with what is read now and why the indexes of the table do not help. */
  static Finding.Builder now(
      RuleMetadata rule,
      QueryAccess query,
      TableAccess access,
      RuleContext context,
      Collection<Identifier> columns,
      List<Candidate> inTheWay) {
    Finding.Builder finding =
        context
            .finding(rule, query, access, columns)
            .line(Label.QUERY, PathText.demand(access))
            .line(Label.PATH, PathText.path(access, access.chosen()));
    if (inTheWay.isEmpty()) {
      finding.line(Label.INDEX, "none on " + access.table().name());
    }
    inTheWay.forEach(candidate -> finding.line(Label.INDEX, PathText.shortcoming(candidate)));
    return finding;
  }

  /** Adds an index that would help, what it leads to, its price and the caution. */
  static Finding.Builder remedy(
      Finding.Builder finding,
      TableAccess access,
      RuleContext context,
      Suggestion suggestion,
      Candidate then) {
    if (suggestion instanceof ReplaceIndex) {
      finding.line(Label.CAUTION, ProductionCaution.dropping(context.dialect()));
    }
    return finding
        .suggest(suggestion)
        .line(Label.FIX, suggestion.render() + ": " + PathText.path(access, then))
        .line(Label.PRICE, Remedy.price(suggestion))
        .line(Label.CAUTION, ProductionCaution.building(context.dialect()))
        .assumed(isAssumed(access.chosen()) || isAssumed(then));
  }

  private static boolean isAssumed(Candidate candidate) {
    return candidate.estimate().confidence() == Confidence.ASSUMED;
  }

  /** The columns of the table itself that conditions name. */
  static List<Identifier> columns(Collection<? extends Predicate> conditions) {
    return conditions.stream()
        .flatMap(condition -> condition.columns().stream())
        .filter(column -> column.use() == ColumnRef.SELF)
        .map(ColumnRef::column)
        .distinct()
        .sorted()
        .toList();
  }

  /** What the chosen index offers, as the one index line. */
  static List<Candidate> chosenIndex(TableAccess access) {
    return access.chosen().index().isPresent() ? List.of(access.chosen()) : access.candidates();
  }

  /** Number of rows stated for the table, if any. */
  static boolean isDeclaredSmaller(TableAccess access, RuleContext context, long rows) {
    return context.statistics().table(access.table().name()).rows().orElse(Double.POSITIVE_INFINITY)
        < rows;
  }
}
