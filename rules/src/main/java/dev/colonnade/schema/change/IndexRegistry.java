package dev.colonnade.schema.change;

import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Which tables have an index of a name. Kept beside the tables so that no look-up goes over all.
 */
final class IndexRegistry {
  private final Map<Identifier, List<TableState>> tables = new HashMap<>();

  void add(Identifier index, TableState table) {
    List<TableState> owners = tables.computeIfAbsent(index, name -> new ArrayList<>(1));
    if (!owners.contains(table)) {
      owners.add(table);
    }
  }

  void remove(Identifier index, TableState table) {
    List<TableState> owners = tables.get(index);
    if (owners != null) {
      owners.remove(table);
      if (owners.isEmpty()) {
        tables.remove(index);
      }
    }
  }

  /** The tables, in the order in which they got the index. */
  List<TableState> tablesOf(Identifier index) {
    return tables.getOrDefault(index, List.of());
  }
}
