package dev.colonnade.query;

import dev.colonnade.location.SourceLocation;
import java.util.Comparator;

/**
 * A query that could not be modelled, and why.
 *
 * @param id its identity
 * @param location where it stands
 * @param reason why, one sentence without full stop
 * @param written whether somebody of the service wrote it down
 */
public record UnanalysedQuery(String id, SourceLocation location, String reason, boolean written)
    implements Comparable<UnanalysedQuery> {
  /** A query that somebody wrote. */
  public UnanalysedQuery(String id, SourceLocation location, String reason) {
    this(id, location, reason, true);
  }

  /** A text that was found. */
  public UnanalysedQuery(QueryText text, String reason) {
    this(text.id(), text.location(), reason, text.source().isWritten());
  }

  @Override
  public int compareTo(UnanalysedQuery other) {
    return Comparator.comparing(UnanalysedQuery::id)
        .thenComparing(UnanalysedQuery::location)
        .thenComparing(UnanalysedQuery::reason)
        .thenComparing(UnanalysedQuery::written)
        .compare(this, other);
  }
}
