package dev.colonnade.query;

import dev.colonnade.location.SourceLocation;
import java.util.Comparator;

/**
 * A query that could not be modelled, and why.
 *
 * @param id its identity
 * @param location where it stands
 * @param reason why, one sentence without full stop
 */
public record UnanalysedQuery(String id, SourceLocation location, String reason)
    implements Comparable<UnanalysedQuery> {
  @Override
  public int compareTo(UnanalysedQuery other) {
    return Comparator.comparing(UnanalysedQuery::id)
        .thenComparing(UnanalysedQuery::location)
        .thenComparing(UnanalysedQuery::reason)
        .compare(this, other);
  }
}
