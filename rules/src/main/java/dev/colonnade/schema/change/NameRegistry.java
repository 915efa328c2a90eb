package dev.colonnade.schema.change;

import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Which tables have an index, or a constraint, of a name. Kept beside the tables so that no look-up
 * goes over all.
 */
final class NameRegistry {
  private final Map<Identifier, List<TableState>> tables = new HashMap<>();

  void add(Identifier name, TableState table) {
    List<TableState> owners = tables.computeIfAbsent(name, key -> new ArrayList<>(1));
    if (!owners.contains(table)) {
      owners.add(table);
    }
  }

  void remove(Identifier name, TableState table) {
    List<TableState> owners = tables.get(name);
    if (owners != null) {
      owners.remove(table);
      if (owners.isEmpty()) {
        tables.remove(name);
      }
    }
  }

  /** The tables, in the order in which they got it. */
  List<TableState> tablesOf(Identifier name) {
    return tables.getOrDefault(name, List.of());
  }
}
