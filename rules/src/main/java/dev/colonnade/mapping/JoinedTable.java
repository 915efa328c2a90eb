package dev.colonnade.mapping;

import dev.colonnade.predicate.Identifier;
import java.util.List;

/**
 * A further table that holds a part of each row of an entity: a secondary table, or the table of a
 * superclass.
 *
 * @param table the further table
 * @param pairs its columns, and the columns of the entity's own table that they refer to
 * @param optional true where an entity may have no row in it: a secondary table
 */
public record JoinedTable(Identifier table, List<ColumnPair> pairs, boolean optional) {
  /** Copies the list. */
  public JoinedTable {
    pairs = List.copyOf(pairs);
  }
}
