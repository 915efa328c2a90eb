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
      List<String> shortcomings) {
    Finding.Builder finding =
        context
            .finding(rule, query, access, columns)
            .line(Label.QUERY, new PathText(query, access).demand())
            .line(Label.PATH, new PathText(query, access).path(access.chosen()));
    if (shortcomings.isEmpty()) {
      finding.line(Label.INDEX, "none that helps on " + access.table().name());
    }
    shortcomings.forEach(shortcoming -> finding.line(Label.INDEX, shortcoming));
    return finding;
  }

  /**
   * Adds an index that would help, what it leads to, its price and the caution. The finding rests
   * on an assumption where the number of rows that the index would read does: how wide a row is
   * matters less.
   */
  static Finding.Builder remedy(
      Finding.Builder finding,
      QueryAccess query,
      TableAccess access,
      RuleContext context,
      Suggestion suggestion,
      Candidate then) {
    finding
        .suggest(suggestion)
        .line(Label.FIX, suggestion.render() + ": " + new PathText(query, access).path(then))
        .line(Label.PRICE, Remedy.price(suggestion))
        .line(Label.CAUTION, ProductionCaution.building(context.dialect()))
        .assumed(then.estimate().confidence() == Confidence.ASSUMED);
    if (suggestion instanceof ReplaceIndex) {
      finding.line(Label.CAUTION, ProductionCaution.dropping(context.dialect()));
    }
    return finding;
  }

  /** A wider index that would do still more. */
  static String alternative(
      QueryAccess query, TableAccess access, dev.colonnade.design.ColumnOrder wider) {
    return "or on (" + wider.render() + "): " + new PathText(query, access).path(wider.candidate());
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

  /** Why each index of the table falls short. */
  static List<String> shortcomings(TableAccess access) {
    return access.candidates().stream().map(PathText::shortcoming).toList();
  }

  /** Why the chosen index falls short; every index of the table where none is chosen. */
  static List<String> shortcomingOfChosen(TableAccess access) {
    return access.chosen().index().isPresent()
        ? List.of(PathText.shortcoming(access.chosen()))
        : shortcomings(access);
  }

  /** Number of rows stated for the table, if any. */
  static boolean isDeclaredSmaller(TableAccess access, RuleContext context, long rows) {
    return context.statistics().table(access.table().name()).rows().orElse(Double.POSITIVE_INFINITY)
        < rows;
  }
}
