package dev.colonnade.rules;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Conversions;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.dialect.ComparisonRules;
import dev.colonnade.dialect.ComparisonRules.Conversion;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion.RewritePredicate;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Parameter;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.IndexUse;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Reports a comparison for which the database converts the column, so that no index on it serves,
 * or which it rejects.
 *
 * <pre>
 * licence = 4711     licence is text: each row's value is converted to a number
 * </pre>
 *
 * <p>Which side is converted is a fact of the database ({@link ComparisonRules}). Silent where the
 * value is converted, where it is not known which side is, where no index holds the column as its
 * leading one, and where the row is looked up by a unique key anyway. Parameters take the type that
 * the service gives them: of these only text sent as national characters is spoken of, once for
 * each column, as a note.
 */
final class ImplicitConversion implements QueryRule {
  static final RuleMetadata METADATA =
      RuleMetadata.rule(ImplicitConversion.class)
          .summary("the types of a comparison differ, and the column is what gets converted")
          .category(Category.CONDITION)
          .severity(Severity.WARNING)
          .since("0.1")
          .build();

  private record Pair(ColumnRef column, Column declared, Expression value) {}

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public Optional<Finding> check(QueryAccess query, TableAccess access, RuleContext context) {
    ComparisonRules rules = ComparisonRules.of(context.dialect());
    Conversions conversions = new Conversions(rules);
    List<Pair> pairs = pairs(access);
    for (Pair pair : pairs) {
      Conversion conversion =
          conversions.of(pair.declared(), pair.value(), column(query, context, pair.value()));
      if (conversion == Conversion.REJECTED) {
        return Optional.of(rejected(query, access, context, pair));
      }
      if (conversion == Conversion.COLUMN
          && access.chosen().path() != AccessPath.UNIQUE_LOOKUP
          && leads(access.table(), pair.column())) {
        return Optional.of(converted(query, access, context, pair));
      }
    }
    return rules.nationalParameters().value()
        ? pairs.stream()
            .filter(pair -> isSentAsNational(pair, access))
            .filter(pair -> isFirst(query, access, pair, context))
            .map(pair -> national(query, access, context, pair))
            .findFirst()
        : Optional.empty();
  }

  private static List<Pair> pairs(TableAccess access) {
    List<Pair> pairs = new ArrayList<>();
    for (Predicate condition : access.demand().conditions()) {
      if (condition instanceof Comparison comparison) {
        add(pairs, access.table(), comparison.left(), comparison.right());
        add(pairs, access.table(), comparison.right(), comparison.left());
      } else if (condition instanceof InList in) {
        in.values().forEach(value -> add(pairs, access.table(), in.operand(), value));
      }
    }
    return pairs;
  }

  private static void add(List<Pair> pairs, Table table, Expression own, Expression value) {
    if (own instanceof ColumnRef column && column.use() == ColumnRef.SELF) {
      table
          .column(column.column())
          .ifPresent(declared -> pairs.add(new Pair(column, declared, value)));
    }
  }

  private static Optional<Column> column(
      QueryAccess query, RuleContext context, Expression expression) {
    if (!(expression instanceof ColumnRef column)) {
      return Optional.empty();
    }
    return query.query().blocks().stream()
        .flatMap(block -> block.tables().stream())
        .filter(use -> use.use() == column.use())
        .map(TableUse::table)
        .findFirst()
        .flatMap(table -> context.schema().table(table))
        .flatMap(table -> table.column(column.column()));
  }

  private static boolean leads(Table table, ColumnRef column) {
    return table.indexes().stream()
        .anyMatch(index -> index.keyColumns().get(0).value().equals(column));
  }

  private static Finding rejected(
      QueryAccess query, TableAccess access, RuleContext context, Pair pair) {
    String fix = "give the value the type of the column: " + describe(pair);
    return Lines.now(METADATA, query, access, context, List.of(pair.column().column()), List.of())
        .line(Label.FIX, fix)
        .suggest(new RewritePredicate(fix))
        .build(
            context.dialect().displayName()
                + " does not compare "
                + pair.column().render()
                + " with a value of this type: the statement fails");
  }

  private static Finding converted(
      QueryAccess query, TableAccess access, RuleContext context, Pair pair) {
    String fix =
        pair.value() instanceof ColumnRef
            ? "give both columns one type and one collation"
            : "give the value the type of the column: " + describe(pair);
    return Lines.now(
            METADATA,
            query,
            access,
            context,
            List.of(pair.column().column()),
            access.table().indexes().stream()
                .filter(index -> index.keyColumns().get(0).value().equals(pair.column()))
                .map(
                    index ->
                        index.render()
                            + ": in the order of "
                            + pair.declared().type().text()
                            + ", not of what it is converted to")
                .toList())
        .line(Label.FIX, fix)
        .suggest(new RewritePredicate(fix))
        .build(METADATA.summary());
  }

  private static String describe(Pair pair) {
    return pair.column().render()
        + " is "
        + pair.declared().type().text()
        + pair.declared().collation().map(it -> " collate " + it).orElse("");
  }

  /** A parameter that decides how an index on a column of plain characters is searched. */
  private static boolean isSentAsNational(Pair pair, TableAccess access) {
    String type = pair.declared().type().text().toLowerCase(Locale.ROOT);
    return pair.value() instanceof Parameter
        && pair.declared().type().family() == TypeFamily.TEXT
        && (type.startsWith("varchar") || type.startsWith("char"))
        && access.chosen().matching().contains(pair.column());
  }

  private static boolean isFirst(
      QueryAccess query, TableAccess access, Pair pair, RuleContext context) {
    return context.usesOf(access.table()).stream()
        .filter(
            use ->
                pairs(use.access()).stream()
                    .anyMatch(
                        other ->
                            other.column().equals(pair.column())
                                && isSentAsNational(other, use.access())))
        .map(IndexUse::query)
        .findFirst()
        .filter(first -> first.query().id().equals(query.query().id()))
        .isPresent();
  }

  private static Finding national(
      QueryAccess query, TableAccess access, RuleContext context, Pair pair) {
    String fix =
        "set sendStringParametersAsUnicode=false on the connection, or make the column nvarchar";
    return Lines.now(
            METADATA,
            query,
            access,
            context,
            List.of(pair.column().column()),
            List.of(
                new PathText(query, access).shape(access.chosen())
                    + ": holds only if the parameter is sent as "
                    + pair.declared().type().text()))
        .line(Label.FIX, fix)
        .suggest(new RewritePredicate(fix))
        .atMost(Severity.NOTE)
        .build(
            "text parameters are sent as national characters, and "
                + pair.column().render()
                + " is "
                + pair.declared().type().text());
  }
}
