package dev.colonnade.analysis;

import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.report.Report;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Words the complaint about an id that no analysed query has. */
final class QueryIdSearch {
  /** So many ids are offered. */
  private static final int OFFERED = 3;

  private QueryIdSearch() {}

  /** Why there is nothing to explain: the query was not analysed, or which ids come close. */
  static String missing(Report report, String id) {
    Optional<UnanalysedQuery> known =
        report.coverage().queriesNotAnalysed().stream()
            .filter(query -> query.id().equals(id))
            .findFirst();
    if (known.isPresent()) {
      return "query: '"
          + id
          + "' at "
          + known.get().location()
          + " was not analysed: "
          + known.get().reason();
    }
    List<String> ids = closest(report, id);
    return "query: there is no query '"
        + id
        + "'; "
        + (ids.isEmpty() ? "no query was found" : "the closest: " + String.join(", ", ids));
  }

  private static List<String> closest(Report report, String id) {
    String wanted = id.toLowerCase(Locale.ROOT);
    return Stream.concat(
            report.queries().stream().map(access -> access.query().id()),
            report.coverage().queriesNotAnalysed().stream().map(UnanalysedQuery::id))
        .distinct()
        .sorted(
            Comparator.comparingInt((String other) -> distance(wanted, other))
                .thenComparing(other -> other))
        .limit(OFFERED)
        .collect(Collectors.toList());
  }

  /** An id that contains what was asked for comes before any other. */
  private static int distance(String wanted, String id) {
    String folded = id.toLowerCase(Locale.ROOT);
    return folded.contains(wanted)
        ? folded.length() - wanted.length()
        : 1000 + edits(wanted, folded);
  }

  /** Levenshtein's distance: insertions, deletions and replacements from one text to the other. */
  static int edits(String from, String to) {
    int[] previous = new int[to.length() + 1];
    for (int j = 0; j <= to.length(); j++) {
      previous[j] = j;
    }
    for (int i = 1; i <= from.length(); i++) {
      int[] current = new int[to.length() + 1];
      current[0] = i;
      for (int j = 1; j <= to.length(); j++) {
        int replaced = previous[j - 1] + (from.charAt(i - 1) == to.charAt(j - 1) ? 0 : 1);
        current[j] = Math.min(replaced, Math.min(previous[j], current[j - 1]) + 1);
      }
      previous = current;
    }
    return previous[to.length()];
  }
}
