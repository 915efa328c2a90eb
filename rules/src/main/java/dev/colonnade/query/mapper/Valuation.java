package dev.colonnade.query.mapper;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;

/**
 * What is supposed of everything that the caller passes. Where a test compares with a constant and
 * everything is supposed to be there, the first constant it is compared with is supposed from then
 * on.
 */
final class Valuation {
  private static final String SIZE = "#size";

  private final Map<String, State> states;
  private final boolean everything;
  private final Set<String> tested = new HashSet<>();

  private Valuation(Map<String, State> states, boolean everything) {
    this.states = new HashMap<>(states);
    this.everything = everything;
  }

  /** Everything is there. */
  static Valuation allPresent() {
    return new Valuation(Map.of(), true);
  }

  /** Only that is there. */
  static Valuation only(Map<String, State> states) {
    return new Valuation(states, false);
  }

  /** The name under which the size of a collection is kept. */
  static String sizeOf(String path) {
    return path + SIZE;
  }

  boolean everything() {
    return everything;
  }

  State state(String path) {
    tested.add(path);
    return states.getOrDefault(path, everything ? State.PRESENT : State.ABSENT);
  }

  /**
   * Supposes the first constant that a choice is compared with, where nothing else is supposed and
   * no test before was told that there is nothing.
   */
  void choose(String path, Value constant) {
    if (constant instanceof Value.Known known
        && (states.containsKey(path)
            ? states.get(path).equals(State.PRESENT)
            : everything || !tested.contains(path))) {
      states.put(path, State.of(known.object()));
    }
  }

  boolean isTested(String path) {
    return tested.contains(path) || states.containsKey(path);
  }

  void suppose(String path, State state) {
    states.put(path, state);
  }
}
