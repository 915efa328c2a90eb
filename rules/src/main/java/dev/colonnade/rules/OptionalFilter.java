package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.ColumnOrder;
import dev.colonnade.dialect.ComparisonRules;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion.RewritePredicate;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.Conjunct;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import dev.colonnade.rule.Variant;
import dev.colonnade.statistics.Confidence;
import java.util.List;
import java.util.Optional;

/**
 * Reports a condition that is switched off by a parameter: one plan has to serve the filter given
 * and the filter absent, and only reading everything serves both.
 *
 * <pre>
 * (:berth is null or berth_id = :berth)      no index bounds this
 * berth_id = coalesce(:berth, berth_id)      nor this
 * </pre>
 *
 * <p>Silent where the filter, were it always given, would gain by no index, old or new; where the
 * row is looked up by a unique key anyway; and for tables declared small. No more than a note where
 * the database makes its plan with the values at hand.
 */
final class OptionalFilter implements QueryRule {
  static final RuleOption<Long> MINIMUM_ROWS =
      RuleOption.ofLong("minimumRows", 1_000, "declared rows from which a table is worth a word");

  static final RuleMetadata METADATA =
      RuleMetadata.rule(OptionalFilter.class)
          .summary("a filter that a parameter switches off bounds no index scan")
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
    int use = access.use().use();
    List<Predicate> filters =
        access.block().conjuncts().stream()
            .filter(conjunct -> conjunct.restricts().contains(use))
            .map(Conjunct::predicate)
            .filter(predicate -> Switches.given(predicate).isPresent())
            .filter(predicate -> predicate.columns().stream().anyMatch(it -> it.use() == use))
            .toList();
    if (filters.isEmpty()
        || access.chosen().path() == AccessPath.UNIQUE_LOOKUP
        || Lines.isDeclaredSmaller(access, context, context.option(METADATA, MINIMUM_ROWS))) {
      return Optional.empty();
    }
    boolean planned = ComparisonRules.of(context.dialect()).plansWithValues().value();
    Finding.Builder finding =
        Lines.now(
            METADATA,
            query,
            access,
            context,
            columns(filters, use),
            inTheWay(access, columns(filters, use)));
    boolean any = false;
    for (Predicate filter : filters) {
      any |= describe(finding, query, access, context, filter);
    }
    if (!any) {
      return Optional.empty();
    }
    String fix = "put the condition into the statement only where a value is given";
    finding
        .line(Label.FIX, fix)
        .suggest(new RewritePredicate(fix))
        .line(Label.PRICE, "one statement, and one plan, for each combination of filters in use");
    if (planned) {
      finding
          .atMost(Severity.NOTE)
          .line(
              Label.INDEX,
              "a plan made with the values at hand can use an index; one kept for all values"
                  + " cannot");
    }
    return Optional.of(finding.build(METADATA.summary()));
  }

  /** Adds what the filter would do alone, if that is worth a line. */
  private static boolean describe(
      Finding.Builder finding,
      QueryAccess query,
      TableAccess access,
      RuleContext context,
      Predicate filter) {
    Predicate given = Switches.given(filter).orElseThrow();
    Variant variant =
        Variant.of(
            context,
            query,
            access.block(),
            condition ->
                condition.equals(filter)
                    ? Optional.of(given)
                    : Optional.of(condition).filter(it -> Switches.given(it).isEmpty()));
    TableAccess then = variant.access(access);
    PathText text = new PathText(variant.after(), then);
    String start = "with " + new PathText(query, access).own(given) + ": ";
    if (variant.helps(access)) {
      add(finding, start, text, then.chosen());
      return true;
    }
    Optional<ColumnOrder> order = variant.newIndex(context, access);
    order.ifPresent(
        it ->
            add(finding, start + "and an index on (" + it.render() + "): ", text, it.candidate()));
    return order.isPresent();
  }

  private static void add(Finding.Builder finding, String start, PathText text, Candidate then) {
    finding
        .line(Label.FIX, start + text.path(then))
        .assumed(then.estimate().confidence() == Confidence.ASSUMED);
  }

  /** The indexes that would serve if the filter were always there. */
  private static List<String> inTheWay(TableAccess access, List<Identifier> columns) {
    return access.table().indexes().stream()
        .filter(index -> index.keyColumns().get(0).column().filter(columns::contains).isPresent())
        .map(index -> index.render() + ": bounds nothing, since the filter may be absent")
        .toList();
  }

  private static List<Identifier> columns(List<Predicate> filters, int use) {
    return filters.stream()
        .flatMap(filter -> filter.columns().stream())
        .filter(column -> column.use() == use)
        .map(ColumnRef::column)
        .distinct()
        .sorted()
        .toList();
  }
}
