package dev.colonnade.query;

import dev.colonnade.location.SourceLocation;
import java.util.List;

/**
 * One statement, understood.
 *
 * @param text where it was found and how it was written
 * @param kind what it does
 * @param blocks its SELECTs, block 1 first
 */
public record Query(QueryText text, StatementKind kind, List<QueryBlock> blocks) {
  /** Copies the list. */
  public Query {
    blocks = List.copyOf(blocks);
  }

  /** The query's identity. */
  public String id() {
    return text.id();
  }

  /** Where it stands. */
  public SourceLocation location() {
    return text.location();
  }
}
