package dev.colonnade.query;

import dev.colonnade.predicate.Predicate;
import java.util.Set;

/**
 * One condition that every result row of a block must satisfy, with the tables whose reading it may
 * restrict.
 *
 * <p>A condition in WHERE or in the ON of an inner join may restrict every table of the block that
 * it names. One in the ON of {@code a LEFT JOIN b} may restrict the reading of b, never that of a.
 *
 * @param predicate the condition, normalized
 * @param restricts uses whose reading it may restrict; empty for the ON of a full join
 */
public record Conjunct(Predicate predicate, Set<Integer> restricts) {
  /** Copies the set. */
  public Conjunct {
    restricts = Set.copyOf(restricts);
  }
}
