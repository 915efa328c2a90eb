package dev.colonnade.query;

import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * One entry of a FROM clause: a table, or the rows of another block.
 *
 * <p>Every item has a number, its <em>use</em>, that is unique in the query and counted from 1.
 */
public sealed interface FromItem {
  /** The number by which columns refer to this item. */
  int use();

  /** The alias, or the table's name where none is given. */
  String alias();

  /** True when the item can contribute a row of NULLs: the inner side of an outer join. */
  boolean nullSupplied();

  /** Uses of the same block that must be read before this item: outer and lateral joins. */
  Set<Integer> after();

  /**
   * A table.
   *
   * @param table the table
   * @param wholeRow true when the row itself is needed whatever the columns: it is changed, deleted
   *     or locked
   */
  record TableUse(
      int use,
      Identifier table,
      String alias,
      boolean nullSupplied,
      Set<Integer> after,
      boolean wholeRow)
      implements FromItem {
    /** Copies the set. */
    public TableUse {
      after = Set.copyOf(after);
    }

    /** A table in an inner join. */
    public static TableUse of(int use, String table, String alias) {
      return new TableUse(use, Identifier.of(table), alias, false, Set.of(), false);
    }

    /** The same use as an ordinary member of an inner join. */
    public TableUse withoutNulls() {
      return new TableUse(use, table, alias, false, Set.of(), wholeRow);
    }
  }

  /**
   * The rows of another block: a derived table, a view, a common table expression; or, where no
   * block is named, the rows of something that no index serves (a table function, VALUES).
   *
   * @param block number of the block that yields the rows
   * @param columns names of its columns, as far as known
   */
  record DerivedUse(
      int use,
      Optional<Integer> block,
      String alias,
      boolean nullSupplied,
      Set<Integer> after,
      List<Identifier> columns)
      implements FromItem {
    /** Copies the collections. */
    public DerivedUse {
      after = Set.copyOf(after);
      columns = List.copyOf(columns);
    }
  }
}
