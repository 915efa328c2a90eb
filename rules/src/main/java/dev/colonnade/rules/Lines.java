package dev.colonnade.rules;

import dev.colonnade.access.Bound;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.Reordering;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.ProductionCaution;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.ReplaceIndex;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.Turned;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Confidence;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

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

  /** The finding about an index whose columns would serve better in another order. */
  static Finding turned(
      RuleMetadata rule,
      QueryAccess query,
      TableAccess access,
      RuleContext context,
      Turned turned) {
    Reordering found = turned.reordering();
    Finding.Builder finding =
        now(
            rule,
            query,
            access,
            context,
            List.of(found.index().name()),
            List.of(PathText.shortcoming(found.now())));
    return remedy(finding, query, access, context, turned.suggestion(), found.then())
        .build(rule.summary());
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

  /** Why each index of the table falls short: those that hold a bound value, and how many more. */
  static List<String> shortcomings(TableAccess access) {
    Set<Expression> bound =
        access.demand().bounds().stream().map(Bound::value).collect(Collectors.toSet());
    List<Candidate> near =
        access.candidates().stream()
            .filter(
                candidate ->
                    candidate.index().orElseThrow().keyColumns().stream()
                        .anyMatch(part -> bound.contains(part.value())))
            .toList();
    List<String> lines = new ArrayList<>(near.stream().map(PathText::shortcoming).toList());
    int others = access.candidates().size() - near.size();
    if (others > 0) {
      String what = near.isEmpty() ? "" : "another ";
      lines.add(
          what + PathText.count(others, "index holds", "indexes hold") + " none of these columns");
    }
    return lines;
  }

  /** Why the chosen index falls short; every index of the table where none is chosen. */
  static List<String> shortcomingOfChosen(TableAccess access) {
    return access.chosen().index().isPresent()
        ? List.of(PathText.shortcoming(access.chosen()))
        : shortcomings(access);
  }

  /** The indexes of a table, in one line. */
  static String indexesOf(Table table) {
    return table.indexes().isEmpty()
        ? "none on " + table.name()
        : table.indexes().stream().map(Index::render).collect(Collectors.joining("; "));
  }

  /** Number of rows stated for the table, if any. */
  static boolean isDeclaredSmaller(TableAccess access, RuleContext context, long rows) {
    return context.statistics().table(access.table().name()).rows().orElse(Double.POSITIVE_INFINITY)
        < rows;
  }
}
