package dev.colonnade.query.source;

import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * What a source of queries yields, sorted by id whatever the order of files.
 *
 * @param queries texts that can be analysed
 * @param unanalysed queries that were seen and whose text is no SQL that can be analysed, and files
 *     that could not be read
 */
public record FoundQueries(List<QueryText> queries, List<UnanalysedQuery> unanalysed) {
  /** Nothing was found. */
  public static final FoundQueries NONE = new FoundQueries(List.of(), List.of());

  /** Sorts both lists. */
  public FoundQueries {
    queries =
        queries.stream()
            .sorted(Comparator.comparing(QueryText::id).thenComparing(QueryText::location))
            .toList();
    unanalysed = unanalysed.stream().sorted().toList();
  }

  /** How many queries were seen, analysable or not. */
  public int total() {
    return queries.size() + unanalysed.size();
  }

  /** The findings of both. */
  public FoundQueries and(FoundQueries other) {
    List<QueryText> allQueries = new ArrayList<>(queries);
    allQueries.addAll(other.queries);
    List<UnanalysedQuery> allUnanalysed = new ArrayList<>(unanalysed);
    allUnanalysed.addAll(other.unanalysed);
    return new FoundQueries(allQueries, allUnanalysed);
  }
}
