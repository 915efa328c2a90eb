package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion.RewritePredicate;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.StatementKind;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.Variant;
import dev.colonnade.statistics.Confidence;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;

/**
 * Reports an OR over different columns that keeps every index from bounding the scan although each
 * branch alone has one.
 *
 * <pre>
 * owner = ? or agent = ?     now: full-table-scan     two statements: two range scans
 * </pre>
 *
 * <p>Silent where the database unites the indexes by itself, where a branch alone has no index to
 * go by (then all is read anyway), where all branches together would cost about as much, and for
 * branches that a parameter switches off. Silent under EXISTS and in subqueries for one value,
 * which cannot be put together with UNION.
 */
final class SplitByOr implements QueryRule {
  /** What must be saved, as for every other proposal. */
  private static final double SHARE_LEFT = 0.8;

  static final RuleMetadata METADATA =
      RuleMetadata.rule(SplitByOr.class)
          .summary("an OR over different columns keeps the index of each branch from being used")
          .category(Category.CONDITION)
          .severity(Severity.WARNING)
          .since("0.1")
          .build();

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public Optional<Finding> check(QueryAccess query, TableAccess access, RuleContext context) {
    boolean canSplit =
        switch (access.block().role()) {
          case MAIN, SET_OPERAND, DERIVED_TABLE, COMMON_TABLE_EXPRESSION, IN -> true;
          case EXISTS, SCALAR -> false;
        };
    if (!canSplit
        || !access.branches().isEmpty()
        || access.chosen().path() == AccessPath.UNIQUE_LOOKUP) {
      return Optional.empty();
    }
    return access.block().conjuncts().stream()
        .filter(conjunct -> isSubject(conjunct, access.use().use()))
        .map(conjunct -> finding(query, access, context, (Or) conjunct.predicate()))
        .flatMap(Optional::stream)
        .findFirst();
  }

  /** An OR that is reported at this use: the first of those it names. */
  private static boolean isSubject(Conjunct conjunct, int use) {
    if (!(conjunct.predicate() instanceof Or or)
        || or.parts().stream().anyMatch(part -> part.columns().isEmpty())) {
      return false;
    }
    TreeSet<Integer> uses = new TreeSet<>();
    TreeSet<ColumnRef> columns = new TreeSet<>(or.columns());
    columns.forEach(column -> uses.add(column.use()));
    return columns.size() > 1
        && uses.first() == use
        && conjunct.restricts().containsAll(uses)
        && or.parts().stream().map(Predicate::columns).distinct().count() > 1;
  }

  private static Optional<Finding> finding(
      QueryAccess query, TableAccess access, RuleContext context, Or or) {
    List<Variant> variants = new ArrayList<>();
    double cost = 0;
    for (Predicate part : or.parts()) {
      Variant variant =
          Variant.of(
              context,
              query,
              access.block(),
              condition -> Optional.of(condition.equals(or) ? part : condition));
      if (!isBoundBy(variant, part)) {
        return Optional.empty();
      }
      variants.add(variant);
      cost += variant.after().cost();
    }
    if (cost > SHARE_LEFT * query.cost() || query.cost() - cost < 1) {
      return Optional.empty();
    }
    PathText text = new PathText(query, access);
    List<Identifier> columns =
        or.columns().stream().map(ColumnRef::column).distinct().sorted().toList();
    Finding.Builder finding =
        context
            .finding(METADATA, query, access, columns)
            .line(Label.QUERY, access.table().name() + ": " + text.own(or))
            .line(Label.PATH, text.path(access.chosen()));
    for (int i = 0; i < variants.size(); i++) {
      Variant variant = variants.get(i);
      TableAccess then = decisive(variant, access, or.parts().get(i));
      finding
          .line(
              Label.INDEX,
              text.own(or.parts().get(i))
                  + " alone: "
                  + new PathText(variant.after(), then).path(then.chosen()))
          .assumed(then.chosen().estimate().confidence() == Confidence.ASSUMED);
    }
    String fix =
        query.query().kind() == StatementKind.SELECT
            ? "one select for each branch, put together with union, or with union all where a later"
                + " one leaves out the rows of those before it"
            : "one statement for each branch";
    return Optional.of(
        finding
            .line(Label.FIX, fix)
            .line(Label.PRICE, "a row that satisfies several branches is read once for each")
            .suggest(new RewritePredicate(fix))
            .build(METADATA.summary()));
  }

  /** True when an index bounds the reading of some table by what the branch says of it. */
  private static boolean isBoundBy(Variant variant, Predicate part) {
    return variant.after().tables().stream()
        .anyMatch(
            other ->
                other.chosen().matching().stream()
                    .flatMap(value -> value.columns().stream())
                    .anyMatch(
                        column ->
                            part.columns()
                                .contains(new ColumnRef(other.use().use(), column.column()))));
  }

  /** The table that a branch is about. */
  private static TableAccess decisive(Variant variant, TableAccess access, Predicate part) {
    return variant.after().tables().stream()
        .filter(
            other -> part.columns().stream().anyMatch(column -> column.use() == other.use().use()))
        .findFirst()
        .orElseGet(() -> variant.access(access));
  }
}
