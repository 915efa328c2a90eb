package dev.colonnade.design;

import dev.colonnade.access.IndexEntry;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * Which indexes of a table hold nothing that another one does not hold in the same order.
 *
 * <p>Safe direction: an index is called surplus only where that follows from its definition on this
 * database. One that a constraint owns never is, nor a unique one beside a non-unique one.
 */
public final class SurplusIndexes {
  private final Table table;
  private final Dialect dialect;

  /** The indexes of a table on a database. */
  public SurplusIndexes(Table table, Dialect dialect) {
    this.table = table;
    this.dialect = dialect;
  }

  /**
   * An index and the one that makes it surplus.
   *
   * @param index what could go
   * @param keeper what stays
   */
  public record Surplus(Index index, Index keeper) {}

  /**
   * Indexes that repeat another one. Of several equal ones the keeper is that of the primary key,
   * else of a unique constraint, else of a foreign key, else a unique one, else the first written.
   * A unique constraint that repeats the primary key is reported too: somebody wrote it.
   */
  public List<Surplus> duplicates() {
    List<Surplus> result = new ArrayList<>();
    List<Index> ranked =
        table.indexes().stream()
            .sorted(
                Comparator.comparingInt(SurplusIndexes::rank)
                    .thenComparing(Index::location)
                    .thenComparing(Index::name))
            .toList();
    for (int i = 1; i < ranked.size(); i++) {
      Index index = ranked.get(i);
      if (index.origin() == IndexOrigin.FOREIGN_KEY) {
        continue;
      }
      ranked.subList(0, i).stream()
          .filter(keeper -> keeper.unique() || !index.unique())
          .filter(keeper -> isCopy(index, keeper))
          .findFirst()
          .ifPresent(keeper -> result.add(new Surplus(index, keeper)));
    }
    result.sort(Comparator.comparing(surplus -> surplus.index().name()));
    return result;
  }

  private static int rank(Index index) {
    return switch (index.origin()) {
      case PRIMARY_KEY -> 0;
      case UNIQUE_CONSTRAINT -> 1;
      case FOREIGN_KEY -> 2;
      case CREATE_INDEX -> index.unique() ? 3 : 4;
    };
  }

  /**
   * Non-unique indexes whose whole key stands at the head of another one's entries, and whose
   * included columns the other holds; duplicates left aside. The keeper is the narrowest that is
   * not surplus itself.
   */
  public List<Surplus> prefixes() {
    Set<Index> copies = new LinkedHashSet<>();
    duplicates().forEach(surplus -> copies.add(surplus.index()));
    List<Index> rest = table.indexes().stream().filter(index -> !copies.contains(index)).toList();
    List<Surplus> pairs = new ArrayList<>();
    for (Index index : rest) {
      for (Index keeper : rest) {
        if (!index.equals(keeper) && isPrefix(index, keeper)) {
          boolean mutual = isPrefix(keeper, index);
          if (!mutual || goesFirst(index, keeper)) {
            pairs.add(new Surplus(index, keeper));
          }
        }
      }
    }
    Set<Index> surplus = new LinkedHashSet<>();
    pairs.forEach(pair -> surplus.add(pair.index()));
    List<Surplus> result = new ArrayList<>();
    for (Index index : surplus) {
      pairs.stream()
          .filter(pair -> pair.index().equals(index) && !surplus.contains(pair.keeper()))
          .min(
              Comparator.comparingInt((Surplus pair) -> pair.keeper().keyColumns().size())
                  .thenComparingInt(pair -> pair.keeper().includedColumns().size())
                  .thenComparing(pair -> pair.keeper().name()))
          .ifPresent(result::add);
    }
    return result;
  }

  private static boolean goesFirst(Index index, Index other) {
    return Comparator.comparingInt((Index i) -> i.keyColumns().size())
            .thenComparing(Index::name)
            .compare(index, other)
        < 0;
  }

  private boolean isCopy(Index index, Index keeper) {
    return index.method() == keeper.method()
        && index.keyColumns().size() == keeper.keyColumns().size()
        && Set.copyOf(index.includedColumns()).equals(Set.copyOf(keeper.includedColumns()))
        && index.predicate().equals(keeper.predicate())
        && isHead(index.keyColumns(), keeper.keyColumns(), index.method());
  }

  private boolean isPrefix(Index index, Index keeper) {
    return index.method() == IndexMethod.BTREE
        && keeper.method() == IndexMethod.BTREE
        && !index.origin().isConstraint()
        && !index.unique()
        && !entry(index).clustered()
        && holdsRowsOf(keeper, index)
        && isHead(index.keyColumns(), entry(keeper).search(), IndexMethod.BTREE)
        && holds(keeper, index.includedColumns());
  }

  /** True when every row that has an entry in the second index has one in the first. */
  private boolean holdsRowsOf(Index keeper, Index index) {
    if (keeper.predicate().equals(index.predicate())) {
      return true;
    }
    // A full index stands in for a partial one only where it can reject the other rows unfetched.
    return keeper.predicate().isEmpty()
        && holds(
            keeper,
            index.predicate().orElseThrow().columns().stream().map(ColumnRef::column).toList());
  }

  private boolean isHead(List<KeyColumn> head, List<KeyColumn> key, IndexMethod method) {
    if (head.size() > key.size()) {
      return false;
    }
    boolean same = true;
    boolean reversed = method == IndexMethod.BTREE && dialect.ordering().backward().value();
    for (int i = 0; i < head.size(); i++) {
      KeyColumn left = head.get(i);
      KeyColumn right = key.get(i);
      if (!isSameValue(left, right)) {
        return false;
      }
      boolean sameDirection = isDescending(left) == isDescending(right);
      boolean nulls = left.column().map(table::isNullable).orElse(true);
      boolean sameNulls = nullsFirst(left) == nullsFirst(right);
      same &= sameDirection && (sameNulls || !nulls);
      reversed &= !sameDirection && (!sameNulls || !nulls);
    }
    return same || reversed;
  }

  private static boolean isSameValue(KeyColumn left, KeyColumn right) {
    return left.value().equals(right.value())
        && left.prefixLength().equals(right.prefixLength())
        && left.operatorClass().equals(right.operatorClass())
        && left.collation().equals(right.collation());
  }

  private boolean isDescending(KeyColumn column) {
    return column.descending() && dialect.features().descending().value();
  }

  private boolean nullsFirst(KeyColumn column) {
    return switch (column.nulls()) {
      case FIRST -> true;
      case LAST -> false;
      case DEFAULT -> dialect.ordering().nullsFirst().value() != isDescending(column);
    };
  }

  private boolean holds(Index index, Collection<Identifier> columns) {
    IndexEntry entry = entry(index);
    return entry.clustered() || entry.held().containsAll(columns);
  }

  private IndexEntry entry(Index index) {
    return IndexEntry.of(index, table, dialect);
  }
}
