package dev.colonnade.rules;

import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.CreateIndex;
import dev.colonnade.finding.Suggestion.DropIndex;
import dev.colonnade.finding.Suggestion.ReplaceIndex;
import dev.colonnade.finding.Suggestion.RewritePredicate;
import dev.colonnade.rule.PathComparison;
import dev.colonnade.rule.Rule;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleOption;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import java.util.List;
import java.util.stream.Collectors;

/**
 * Shows a scene to one rule and asserts what it says. Reads as a sentence, and fails with the
 * schema, the query and every candidate.
 *
 * <p>On every use the rule's metadata is validated, and every suggestion is put to the test: an
 * index that is to be created or replaced must make the finding go away and the query strictly
 * cheaper; without an index that is to be dropped no query may be read in a worse way: dearer, and
 * with a less precise path, fewer matching columns, coverage or order lost.
 */
record RuleTester(Rule rule, Scene scene) {

  static RuleTester of(Rule rule) {
    return new RuleTester(rule, Scene.EMPTY);
  }

  RuleTester on(Dialect dialect) {
    return new RuleTester(rule, scene.on(dialect));
  }

  /** A table; the columns as in CREATE TABLE. */
  RuleTester table(String name, String columns) {
    return ddl("create table " + name + " (" + columns + ")");
  }

  /** An index: {@code index("ix_berth", "booking (berth_id, starts_on desc)")}. */
  RuleTester index(String name, String definition) {
    return ddl("create index " + name + " on " + definition);
  }

  RuleTester uniqueIndex(String name, String definition) {
    return ddl("create unique index " + name + " on " + definition);
  }

  RuleTester ddl(String statement) {
    return new RuleTester(rule, scene.ddl(statement + ";"));
  }

  RuleTester query(String sql) {
    return new RuleTester(rule, scene.queries(sql));
  }

  RuleTester unreadableQuery() {
    return new RuleTester(rule, scene.unreadableQuery());
  }

  RuleTester rows(String table, double rows) {
    return new RuleTester(rule, scene.rows(table, rows));
  }

  RuleTester distinct(String table, String column, double values) {
    return new RuleTester(rule, scene.distinct(table, column, values));
  }

  RuleTester option(RuleOption<?> option, Object value) {
    return new RuleTester(
        rule,
        scene.with(
            scene
                .settings()
                .withOption(rule.metadata().id(), option.name(), String.valueOf(value))));
  }

  /** The findings, after every check that needs no expectation. */
  List<Finding> findings() {
    List<String> problems = rule.metadata().problems();
    if (!problems.isEmpty()) {
      throw new AssertionError("metadata of " + rule.metadata().id() + ": " + problems);
    }
    RuleContext context = scene.context();
    List<Finding> findings = RuleRegistry.check(rule, context).stream().sorted().toList();
    for (Finding finding : findings) {
      for (Suggestion suggestion : finding.suggestions()) {
        tryOut(finding, suggestion, context);
      }
    }
    return findings;
  }

  /** Asserts one finding whose text holds each of the fragments, in this order. */
  void reports(String... fragments) {
    List<Finding> findings = findings();
    if (findings.size() != 1) {
      throw failure("one finding expected", findings, scene.context());
    }
    String text = findings.get(0).render();
    int from = 0;
    for (String fragment : fragments) {
      int at = text.indexOf(fragment, from);
      if (at < 0) {
        throw failure("the finding lacks: " + fragment, findings, scene.context());
      }
      from = at + fragment.length();
    }
  }

  /** Asserts that the rule has nothing to say. */
  void staysSilent() {
    List<Finding> findings = findings();
    if (!findings.isEmpty()) {
      throw failure("silence expected", findings, scene.context());
    }
  }

  private void tryOut(Finding finding, Suggestion suggestion, RuleContext before) {
    if (suggestion instanceof RewritePredicate) {
      return;
    }
    Table table = before.schema().table(finding.table()).orElseThrow();
    RuleContext after = before.with(suggestion.applyTo(table));
    boolean still =
        RuleRegistry.check(rule, after).stream()
            .anyMatch(other -> other.fingerprint().equals(finding.fingerprint()));
    if (still) {
      throw failure("still found after: " + suggestion.render(), List.of(finding), after);
    }
    if (suggestion instanceof CreateIndex || suggestion instanceof ReplaceIndex) {
      assertSomeCheaper(finding, suggestion, before, after);
    }
    if (suggestion instanceof DropIndex || suggestion instanceof ReplaceIndex) {
      assertNoneWorse(finding, suggestion, before, after);
    }
  }

  /** The query of the finding, or, for a finding about the schema, some query. */
  private void assertSomeCheaper(
      Finding finding, Suggestion suggestion, RuleContext before, RuleContext after) {
    for (int i = 0; i < before.queries().size(); i++) {
      QueryAccess now = before.queries().get(i);
      boolean meant = finding.queryId().map(id -> id.equals(now.query().id())).orElse(true);
      if (meant && after.queries().get(i).cost() < now.cost()) {
        return;
      }
    }
    throw failure("no cheaper after " + suggestion.render(), List.of(finding), after);
  }

  private void assertNoneWorse(
      Finding finding, Suggestion suggestion, RuleContext before, RuleContext after) {
    for (int i = 0; i < before.queries().size(); i++) {
      List<TableAccess> then = after.queries().get(i).tables();
      for (TableAccess now : before.queries().get(i).tables()) {
        boolean worse =
            then.stream()
                .filter(access -> access.use().use() == now.use().use())
                .filter(access -> access.chosen().cost() > now.chosen().cost())
                .anyMatch(access -> PathComparison.isWorse(access.chosen(), now.chosen()));
        if (worse) {
          throw failure(
              "a query is read in a worse way after: " + suggestion.render(),
              List.of(finding),
              after);
        }
      }
    }
  }

  private AssertionError failure(String what, List<Finding> findings, RuleContext context) {
    StringBuilder text = new StringBuilder(what).append("\nrule ").append(rule.metadata().id());
    text.append(" on ").append(scene.dialect()).append("\nschema:\n");
    for (Table table : context.schema().tables()) {
      text.append("  ").append(table.name());
      text.append(
          table.indexes().stream()
              .map(Index::render)
              .collect(Collectors.joining("; ", ": ", "\n")));
    }
    for (QueryAccess query : context.queries()) {
      text.append("query ").append(query.query().text().sql()).append('\n');
      for (TableAccess access : query.tables()) {
        text.append("  chosen ").append(line(query, access, access.chosen()));
        access
            .candidates()
            .forEach(
                candidate -> text.append("  candidate ").append(line(query, access, candidate)));
      }
    }
    text.append(findings.isEmpty() ? "no finding" : "findings:\n");
    findings.forEach(finding -> text.append(finding.render()).append('\n'));
    return new AssertionError(text.toString());
  }

  private static String line(QueryAccess query, TableAccess access, Candidate candidate) {
    return candidate.index().map(index -> index.name() + ": ").orElse("table: ")
        + new PathText(query, access).path(candidate)
        + ", cost "
        + Math.round(candidate.cost())
        + ", "
        + candidate.remark()
        + "\n";
  }
}
