package dev.colonnade.query.source;

import java.util.HashMap;
import java.util.Map;

/** Gives each query an id of its own: the second one of a name becomes {@code name~2}. */
final class QueryIds {
  private final Map<String, Integer> taken = new HashMap<>();

  /** The name itself, or the name with the next free number. */
  String unique(String name) {
    int count = taken.merge(name, 1, Integer::sum);
    return count == 1 ? name : name + "~" + count;
  }
}
