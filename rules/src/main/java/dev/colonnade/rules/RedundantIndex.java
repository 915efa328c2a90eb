package dev.colonnade.rules;

import dev.colonnade.access.Candidate;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.SurplusIndexes;
import dev.colonnade.design.SurplusIndexes.Surplus;
import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.ProductionCaution;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion.DropIndex;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.IndexUse;
import dev.colonnade.rule.Remedy;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.SchemaRule;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Reports an index whose whole key stands at the head of another one's entries.
 *
 * <pre>
 * ix_berth(berth_id)            is redundant: every stretch that it bounds,
 * ix_berth_day(berth_id, day)   bounds too, in the same order
 * </pre>
 *
 * <p>Where the database appends the primary key to each entry, {@code (a)} is stored as {@code (a,
 * pk)}: the two make each other redundant, and the one with the shorter key is reported, or the one
 * that nothing else owns.
 *
 * <p>Proved query by query: for each one that reads the index, the keeper offers the same path with
 * the same matching columns, coverage and order; silent where it does not, for instance where a
 * query takes its order from an appended primary key, and where the query would turn to a third
 * index that serves it in a worse way. Silent for unique indexes and those that a constraint owns:
 * they enforce something. Open to debate, and so no error, where the entries of the keeper are many
 * times as wide or a query would read more than twice as many pages.
 */
final class RedundantIndex implements SchemaRule {
  /** A query that would read more than so many times the pages makes the finding debatable. */
  private static final double TOLERATED_GROWTH = 2;

  /** A keeper whose entries are more than so many times as wide makes it debatable too. */
  private static final double TOLERATED_WIDTH = 8;

  static final RuleMetadata METADATA =
      RuleMetadata.rule(RedundantIndex.class)
          .summary("the key is the head of another index, which serves the same queries")
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
        .prefixes().stream()
            .map(surplus -> finding(table, surplus, context))
            .flatMap(Optional::stream)
            .toList();
  }

  private static Optional<Finding> finding(Table table, Surplus surplus, RuleContext context) {
    Index index = surplus.index();
    Index keeper = surplus.keeper();
    List<IndexUse> uses = context.usesOf(table, index);
    DropIndex drop = new DropIndex(index);
    if (uses.stream().anyMatch(use -> Remedy.getsWorse(context, use, table, keeper, drop))) {
      return Optional.empty();
    }
    Optional<IndexUse> dearest =
        uses.stream().max(Comparator.comparingDouble(use -> growth(use, keeper, context)));
    Finding.Builder finding =
        context
            .finding(METADATA, index)
            .line(Label.QUERY, SurplusText.readers(uses))
            .line(Label.INDEX, SurplusText.describe(index))
            .line(Label.INDEX, SurplusText.describe(keeper))
            .line(Label.FIX, drop.render() + "; every write saves one index")
            .line(Label.PRICE, price(table, surplus, context))
            .line(Label.CAUTION, ProductionCaution.dropping(context.dialect()))
            .suggest(drop);
    dearest.ifPresent(
        use -> {
          TableAccess access = use.access();
          Candidate instead = context.evaluate(access, keeper);
          finding
              .line(Label.PATH, new PathText(use.query(), access).path(use.candidate()))
              .line(Label.PATH, "without it " + new PathText(use.query(), access).path(instead))
              .atMost(
                  growth(use, keeper, context) > TOLERATED_GROWTH
                      ? Severity.WARNING
                      : Severity.ERROR);
        });
    if (width(table, keeper, context) > TOLERATED_WIDTH * width(table, index, context)) {
      finding.atMost(Severity.WARNING);
    }
    return Optional.of(
        finding.build(index.name() + " is the head of " + keeper.name() + " on " + table.name()));
  }

  private static double growth(IndexUse use, Index keeper, RuleContext context) {
    double now = PathText.pages(use.candidate());
    return PathText.pages(context.evaluate(use.access(), keeper)) / Math.max(1, now);
  }

  private static double width(Table table, Index index, RuleContext context) {
    return context.analyzer().profile(table).index(index).entryBytes();
  }

  private static String price(Table table, Surplus surplus, RuleContext context) {
    double now = width(table, surplus.index(), context);
    double then = width(table, surplus.keeper(), context);
    if (then <= now) {
      return "none: entries of " + surplus.keeper().name() + " are no wider";
    }
    return String.format(
        Locale.ROOT,
        "entries of %s take about %d bytes instead of %d, so the same stretch lies on more pages",
        surplus.keeper().name(),
        Math.round(then),
        Math.round(now));
  }
}
