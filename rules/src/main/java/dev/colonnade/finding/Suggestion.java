package dev.colonnade.finding;

import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.List;

/** A change that would resolve a finding. Advice: whether it is made is for people to decide. */
public sealed interface Suggestion {

  /** The change in one line: {@code create index berth_ix(harbour_id, length)}. */
  String render();

  /** The table with the change made; the same table where the change concerns no index. */
  Table applyTo(Table table);

  /** Create an index. */
  record CreateIndex(Index index) implements Suggestion {
    @Override
    public String render() {
      return "create " + describe(index);
    }

    @Override
    public Table applyTo(Table table) {
      return with(table, List.of(), List.of(index));
    }
  }

  /** Drop an index. */
  record DropIndex(Index index) implements Suggestion {
    @Override
    public String render() {
      return "drop index " + index.name();
    }

    @Override
    public Table applyTo(Table table) {
      return with(table, List.of(index), List.of());
    }
  }

  /** Create an index, then drop the one whose place it takes. */
  record ReplaceIndex(Index old, Index replacement) implements Suggestion {
    @Override
    public String render() {
      return "create " + describe(replacement) + ", then drop index " + old.name();
    }

    @Override
    public Table applyTo(Table table) {
      return with(table, List.of(old), List.of(replacement));
    }
  }

  /**
   * Write a condition differently.
   *
   * @param text what to write instead, for people
   */
  record RewritePredicate(String text) implements Suggestion {
    @Override
    public String render() {
      return text;
    }

    @Override
    public Table applyTo(Table table) {
      return table;
    }
  }

  private static String describe(Index index) {
    return (index.unique() ? "unique index " : "index ") + index.render();
  }

  private static Table with(Table table, List<Index> without, List<Index> added) {
    List<Index> indexes = new ArrayList<>(table.indexes());
    for (Index index : without) {
      if (!indexes.removeIf(existing -> existing.name().equals(index.name()))) {
        throw new IllegalArgumentException(table.name() + " has no index " + index.name());
      }
    }
    indexes.addAll(added);
    return table.withIndexes(indexes);
  }
}
