package dev.colonnade.query.source;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * What a source of queries yields, sorted by id whatever the order of files.
 *
 * @param queries texts that can be analysed
 * @param unanalysed queries that were seen and whose text is no SQL that can be analysed
 * @param unreadable files and directories that could not be read: what queries they hold is unknown
 * @param withoutText how many places make queries of which no text exists before run time; what
 *     they are is told by entries of {@code unreadable}
 */
public record FoundQueries(
    List<QueryText> queries,
    List<UnanalysedQuery> unanalysed,
    List<NotUnderstood> unreadable,
    int withoutText) {
  /** Nothing was found. */
  public static final FoundQueries NONE = new FoundQueries(List.of(), List.of(), List.of());

  /** Findings without a query that has no text. */
  public FoundQueries(
      List<QueryText> queries, List<UnanalysedQuery> unanalysed, List<NotUnderstood> unreadable) {
    this(queries, unanalysed, unreadable, 0);
  }

  /** Sorts the lists. */
  public FoundQueries {
    queries =
        queries.stream()
            .sorted(Comparator.comparing(QueryText::id).thenComparing(QueryText::location))
            .toList();
    unanalysed = unanalysed.stream().sorted().toList();
    unreadable = unreadable.stream().sorted().toList();
  }

  /**
   * How many queries were seen, analysable or not. Unreadable files and those without a text do not
   * count.
   */
  public int total() {
    return queries.size() + unanalysed.size();
  }

  /** The findings of both. */
  public FoundQueries and(FoundQueries other) {
    List<QueryText> allQueries = new ArrayList<>(queries);
    allQueries.addAll(other.queries);
    List<UnanalysedQuery> allUnanalysed = new ArrayList<>(unanalysed);
    allUnanalysed.addAll(other.unanalysed);
    List<NotUnderstood> allUnreadable = new ArrayList<>(unreadable);
    allUnreadable.addAll(other.unreadable);
    return new FoundQueries(
        allQueries, allUnanalysed, allUnreadable, withoutText + other.withoutText);
  }
}
