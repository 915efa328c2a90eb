package dev.colonnade.dialect;

/**
 * How rows and index entries are laid out, and how a scan moves over them.
 *
 * @param pageBytes size of a page in bytes
 * @param usableBytes bytes of a page left after header and trailer
 * @param leafFill share of a leaf page that is filled when an index is built, 0 to 1
 * @param innerFill share of an inner page that is filled, 0 to 1
 * @param entryOverhead bytes of an index entry beside the key, the row's address included
 * @param entrySlot bytes of the page directory for each entry
 * @param alignment entries start at multiples of this many bytes
 * @param rowOverhead bytes of a row beside its columns, directory slot included
 * @param appended what stands behind the key in an entry of a secondary index
 * @param clusteredByPrimaryKey true when the table itself is stored in primary key order
 * @param sharedEntries how the rows that have the same key share an entry
 * @param stepsOn true when a scan of several stretches goes on to the next one along the leaf pages
 *     where that lies near, instead of from the root again
 */
public record Storage(
    Fact<Integer> pageBytes,
    Fact<Integer> usableBytes,
    Fact<Double> leafFill,
    Fact<Double> innerFill,
    Fact<Integer> entryOverhead,
    Fact<Integer> entrySlot,
    Fact<Integer> alignment,
    Fact<Integer> rowOverhead,
    Fact<Appended> appended,
    Fact<Boolean> clusteredByPrimaryKey,
    Fact<SharedEntries> sharedEntries,
    Fact<Boolean> stepsOn) {

  /**
   * How an index that is not unique keeps rows with the same key: the key once, with the addresses
   * of its rows, as far as an entry may grow. Only for keys whose equal values are the same bytes.
   *
   * @param maxBytes bytes of the largest such entry; 0 where each row has an entry of its own
   * @param addressBytes bytes of one row's address
   */
  public record SharedEntries(int maxBytes, int addressBytes) {
    /** Each row has an entry of its own. */
    public static final SharedEntries NONE = new SharedEntries(0, 0);
  }

  /**
   * True when the rows of a table lie in the order of its primary key, so that the key's index is
   * the table itself and holds every column.
   *
   * @param rowNumber true when the primary key is the row number
   */
  public boolean keepsRowsInPrimaryKeyOrder(boolean rowNumber) {
    return clusteredByPrimaryKey.value() || rowNumber;
  }

  /** What stands behind the key in an entry of a secondary index. */
  public enum Appended {
    /** The address of the row: of no use to a query. */
    ROW_ADDRESS,
    /** The primary key's columns: usable to search, order and cover. */
    PRIMARY_KEY,
    /**
     * Likewise; of a table without primary key the columns of its first unique index of columns
     * that are NOT NULL, by which its rows are stored then.
     */
    PRIMARY_OR_UNIQUE_KEY,
    /**
     * A row number that is the primary key where that is one column declared as INTEGER, by that
     * word and no other; usable likewise.
     */
    INTEGER_PRIMARY_KEY,
    /**
     * Likewise, whatever the integers are called, but it can only be read: no search and no order
     * goes by it.
     */
    HELD_INTEGER_PRIMARY_KEY;

    /** True where it is a key that rows are stored by, whatever the types of its columns. */
    public boolean isKey() {
      return switch (this) {
        case PRIMARY_KEY, PRIMARY_OR_UNIQUE_KEY -> true;
        case ROW_ADDRESS, INTEGER_PRIMARY_KEY, HELD_INTEGER_PRIMARY_KEY -> false;
      };
    }

    /**
     * True where a primary key of one column of this type is the row number.
     *
     * @param declared the type as declared
     * @param integer true for integers of any size
     */
    public boolean isRowNumber(String declared, boolean integer) {
      return switch (this) {
        case INTEGER_PRIMARY_KEY -> declared.equalsIgnoreCase("integer");
        case HELD_INTEGER_PRIMARY_KEY -> integer;
        case ROW_ADDRESS, PRIMARY_KEY, PRIMARY_OR_UNIQUE_KEY -> false;
      };
    }
  }
}
