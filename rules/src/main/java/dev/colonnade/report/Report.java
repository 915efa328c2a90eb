package dev.colonnade.report;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.schema.Schema;
import java.util.Comparator;
import java.util.List;

/**
 * What every report is written from.
 *
 * @param dialect the database
 * @param schema the schema after the last change set
 * @param queries how each query reads its tables, by query id, then location
 * @param findings what the rules have to say, sorted
 * @param rules the rules that were applied, by id
 * @param coverage how much of the input was understood
 */
public record Report(
    Dialect dialect,
    Schema schema,
    List<QueryAccess> queries,
    List<Finding> findings,
    List<RuleDescription> rules,
    Coverage coverage) {
  /** Sorts the lists, so that the order of reading does not show. */
  public Report {
    queries =
        queries.stream()
            .sorted(
                Comparator.comparing((QueryAccess access) -> access.query().id())
                    .thenComparing(access -> access.query().location())
                    .thenComparing(access -> access.query().text().sql()))
            .toList();
    findings = findings.stream().sorted().toList();
    rules = rules.stream().sorted(Comparator.comparing(RuleDescription::id)).toList();
  }

  /** Number of findings of that severity. */
  public long count(Severity severity) {
    return findings.stream().filter(finding -> finding.severity() == severity).count();
  }
}
