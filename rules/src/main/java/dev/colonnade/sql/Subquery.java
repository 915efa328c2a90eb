package dev.colonnade.sql;

import dev.colonnade.predicate.Expression.ColumnRef;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.Set;

/**
 * A subquery that was taken in.
 *
 * @param block the number of its block
 * @param correlated columns of enclosing blocks that it reads
 */
public record Subquery(int block, Set<ColumnRef> correlated) {
  /** Copies the set. */
  public Subquery {
    correlated = Collections.unmodifiableSet(new LinkedHashSet<>(correlated));
  }
}
