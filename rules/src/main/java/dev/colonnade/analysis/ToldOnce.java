package dev.colonnade.analysis;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.finding.Evidence;
import dev.colonnade.finding.Finding;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * Findings as a reader wants them: a statement with optional parts has many texts, and what a rule
 * has to say of one of them it often says of a dozen. Of each rule, statement and table the
 * weightiest finding is told, with the number of those that it stands for.
 */
final class ToldOnce {
  /** The weightiest first; one that rests on nothing assumed before one that does. */
  private static final Comparator<Finding> WEIGHT =
      Comparator.comparing(Finding::severity)
          .thenComparing(Finding::restsOnAssumption)
          .thenComparing(Comparator.naturalOrder());

  private ToldOnce() {}

  static List<Finding> of(Collection<Finding> findings, Collection<QueryAccess> queries) {
    Set<String> severalTexts =
        queries.stream()
            .collect(Collectors.groupingBy(access -> access.query().id(), Collectors.counting()))
            .entrySet()
            .stream()
            .filter(entry -> entry.getValue() > 1)
            .map(Map.Entry::getKey)
            .collect(Collectors.toSet());
    Map<String, List<Finding>> groups = new TreeMap<>();
    for (Finding finding : findings) {
      Optional<String> statement = finding.queryId().filter(severalTexts::contains);
      String group =
          statement
              .map(id -> finding.ruleId() + " " + id + " " + finding.table().folded())
              .orElse(finding.fingerprint().value());
      groups.computeIfAbsent(group, key -> new ArrayList<>()).add(finding);
    }
    return groups.values().stream().map(ToldOnce::weightiest).sorted().toList();
  }

  private static Finding weightiest(List<Finding> group) {
    List<Finding> different = group.stream().distinct().sorted(WEIGHT).toList();
    Finding first = different.get(0);
    if (different.size() == 1 || first.queryId().isEmpty()) {
      return first;
    }
    List<Evidence> evidence = new ArrayList<>(first.evidence());
    evidence.add(
        new Evidence(
            Evidence.Label.QUERY,
            "and "
                + (different.size() - 1)
                + " more of the texts that the statement's optional parts make"));
    return new Finding(
        first.ruleId(),
        first.severity(),
        first.location(),
        first.queryId(),
        first.table(),
        first.title(),
        evidence,
        first.suggestions(),
        first.fingerprint(),
        first.restsOnAssumption());
  }
}
