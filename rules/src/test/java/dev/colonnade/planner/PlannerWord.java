package dev.colonnade.planner;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;

/**
 * What a planner says about one query and one index of one table.
 *
 * @param used false when the planner reads the table without that index; then nothing else is said
 * @param matching the key columns it seeks on, in key order, as written in the index; empty where
 *     the plan does not tell
 * @param skips true when it jumps over an unbound leading column; it then seeks on nothing else
 *     that we would call matching
 * @param covering whether the table is left alone; empty where the plan does not tell
 * @param ordered whether the rows come without a sort; empty where none is asked for or the plan
 *     does not tell
 * @param entries entries that were read, where they were counted
 * @param readBefore tables of the join that are read before this one, in order
 * @param apart tables that are read in a subquery of their own, not as members of the join
 * @param plan the plan itself, for messages
 */
record PlannerWord(
    boolean used,
    Optional<List<String>> matching,
    boolean skips,
    Optional<Boolean> covering,
    Optional<Boolean> ordered,
    OptionalLong entries,
    List<String> readBefore,
    List<String> apart,
    String plan) {

  /** Copies the lists. */
  PlannerWord {
    readBefore = List.copyOf(readBefore);
    apart = List.copyOf(apart);
  }

  /** The index is not used. */
  static PlannerWord notUsed(String plan) {
    return new PlannerWord(
        false,
        Optional.empty(),
        false,
        Optional.empty(),
        Optional.empty(),
        OptionalLong.empty(),
        List.of(),
        List.of(),
        plan);
  }

  /** The index is used to seek on these columns. */
  static PlannerWord seeks(List<String> matching, String plan) {
    return new PlannerWord(
        true,
        Optional.of(List.copyOf(matching)),
        false,
        Optional.empty(),
        Optional.empty(),
        OptionalLong.empty(),
        List.of(),
        List.of(),
        plan);
  }

  /** The scan jumps over an unbound leading column. */
  static PlannerWord skips(String plan) {
    return new PlannerWord(
        true,
        Optional.of(List.of()),
        true,
        Optional.empty(),
        Optional.empty(),
        OptionalLong.empty(),
        List.of(),
        List.of(),
        plan);
  }

  PlannerWord withCovering(boolean value) {
    return new PlannerWord(
        used, matching, skips, Optional.of(value), ordered, entries, readBefore, apart, plan);
  }

  PlannerWord withOrdered(boolean value) {
    return new PlannerWord(
        used, matching, skips, covering, Optional.of(value), entries, readBefore, apart, plan);
  }

  PlannerWord withEntries(long value) {
    return new PlannerWord(
        used, matching, skips, covering, ordered, OptionalLong.of(value), readBefore, apart, plan);
  }

  PlannerWord withReadBefore(List<String> tables) {
    return new PlannerWord(used, matching, skips, covering, ordered, entries, tables, apart, plan);
  }

  PlannerWord withApart(Collection<String> value) {
    return new PlannerWord(
        used, matching, skips, covering, ordered, entries, readBefore, List.copyOf(value), plan);
  }

  PlannerWord withoutMatching() {
    return new PlannerWord(
        used, Optional.empty(), skips, covering, ordered, entries, readBefore, apart, plan);
  }

  /** One line without the plan. */
  String summary() {
    if (!used) {
      return "not used";
    }
    return (skips ? "skips, matching " : "matching ")
        + matching.map(List::toString).orElse("?")
        + ", covering "
        + covering.map(String::valueOf).orElse("?")
        + ", ordered "
        + ordered.map(String::valueOf).orElse("?")
        + (readBefore.isEmpty() ? "" : ", after " + readBefore)
        + (apart.isEmpty() ? "" : ", apart " + apart)
        + (entries.isPresent() ? ", entries " + entries.getAsLong() : "");
  }
}
