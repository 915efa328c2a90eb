package dev.colonnade.rule;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** The foreign keys of a table by which its rows cannot be found through an index. */
public final class KeysWithoutIndex {
  private KeysWithoutIndex() {}

  /** The keys, one for each set of columns; none where the database makes an index by itself. */
  public static List<ForeignKey> of(Table table, Dialect dialect) {
    List<ForeignKey> result = new ArrayList<>();
    if (dialect.features().foreignKeyIndexed().value()) {
      return result;
    }
    Set<Set<Identifier>> seen = new HashSet<>();
    for (ForeignKey key : table.foreignKeys()) {
      if (table.indexes().stream().noneMatch(index -> serves(index, key.columns()))
          && seen.add(Set.copyOf(key.columns()))) {
        result.add(key);
      }
    }
    return result;
  }

  /** True when these columns are exactly those of a foreign key without index. */
  public static boolean hasKey(Table table, Dialect dialect, Collection<Identifier> columns) {
    return of(table, dialect).stream()
        .anyMatch(key -> Set.copyOf(key.columns()).equals(Set.copyOf(columns)));
  }

  /**
   * True when rows can be found by these columns: they are the first ones of the index, in whatever
   * order. A partial index does if all it leaves out are rows without a value: these refer to
   * nothing.
   */
  public static boolean serves(Index index, List<Identifier> columns) {
    boolean whole =
        index.predicate().isEmpty()
            || (index.predicate().get() instanceof NullTest test
                && test.negated()
                && columns.stream()
                    .anyMatch(
                        column ->
                            test.columns().stream().anyMatch(it -> it.column().equals(column))));
    if (!whole || index.method() != IndexMethod.BTREE) {
      return false;
    }
    Set<Identifier> head = new HashSet<>();
    index.keyColumns().stream()
        .limit(columns.size())
        .map(part -> part.column())
        .flatMap(Optional::stream)
        .forEach(head::add);
    return head.equals(Set.copyOf(columns));
  }
}
