package dev.colonnade.query.sql;

import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;

/**
 * The columns that a query or function yields.
 *
 * @param names in order; for a value without name, an empty name
 * @param complete false when there may be more columns than are known
 */
record RowShape(List<Identifier> names, boolean complete) {
  /** Nothing known. */
  static final RowShape UNKNOWN = new RowShape(List.of(), false);

  /** The name of a value that has none. */
  static final Identifier NAMELESS = new Identifier("");

  RowShape {
    names = List.copyOf(names);
  }

  /** The same columns under the names of an alias list, which may be shorter. */
  RowShape renamed(List<Identifier> aliases) {
    if (aliases.isEmpty()) {
      return this;
    }
    List<Identifier> result = new ArrayList<>(aliases);
    if (names.size() > aliases.size()) {
      result.addAll(names.subList(aliases.size(), names.size()));
    }
    return new RowShape(result, true);
  }

  boolean has(Identifier name) {
    return names.contains(name);
  }
}
