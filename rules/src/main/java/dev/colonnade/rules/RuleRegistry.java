package dev.colonnade.rules;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.rule.QueryRule;
import dev.colonnade.rule.Rule;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.SchemaRule;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.List;

/** The rules that there are, sorted by id. */
public final class RuleRegistry {
  private static final List<Rule> RULES =
      List.of(
          new ColumnOrder(),
          new Covering(),
          new DuplicateIndex(),
          new ImplicitConversion(),
          new LeadingColumn(),
          new LeadingWildcard(),
          new MissingIndex(),
          new OptionalFilter(),
          new OrderNotServed(),
          new RangeBeforeEquality(),
          new RedundantIndex(),
          new SplitByOr(),
          new UnindexedForeignKey(),
          new UnreadIndex(),
          new WideIndex(),
          new WrappedColumn());

  private RuleRegistry() {}

  /** Every rule, sorted by id. */
  public static List<Rule> rules() {
    return RULES;
  }

  /** What every rule says about itself, sorted by id. */
  public static List<RuleMetadata> metadata() {
    return RULES.stream().map(Rule::metadata).toList();
  }

  /** Applies every rule that is not off. The findings come sorted. */
  public static List<Finding> check(RuleContext context) {
    return RULES.stream()
        .flatMap(rule -> check(rule, context).stream())
        .sorted()
        .distinct()
        .toList();
  }

  /** Applies one rule, unless it is off. */
  public static List<Finding> check(Rule rule, RuleContext context) {
    List<Finding> findings = new ArrayList<>();
    if (context.settings().severity(rule.metadata()) == Severity.OFF) {
      return findings;
    }
    if (rule instanceof SchemaRule schemaRule) {
      for (Table table : context.schema().tables()) {
        findings.addAll(schemaRule.check(table, context));
      }
    } else if (rule instanceof QueryRule queryRule) {
      for (QueryAccess query : context.queries()) {
        for (TableAccess access : query.tables()) {
          queryRule.check(query, access, context).ifPresent(findings::add);
        }
      }
    }
    return findings;
  }
}
