package dev.colonnade.statistics;

import dev.colonnade.dialect.Storage;
import dev.colonnade.dialect.Storage.SharedEntries;

/**
 * How many entries and rows fit on a page, and how many pages and levels follow.
 *
 * <p>For PostgreSQL the B-tree numbers are exact for a freshly built index without duplicates: page
 * layout as measured on PostgreSQL 15.18, fill factors of {@code src/include/access/nbtree.h}. For
 * other databases they follow the same arithmetic with that database's sizes and are estimates.
 */
public final class PageGeometry {
  private static final int POSTGRESQL_PAGE_HEADER = 24;
  private static final int POSTGRESQL_SPECIAL_SPACE = 16;
  private static final int POSTGRESQL_LINE_POINTER = 4;
  private static final int POSTGRESQL_ROW_ADDRESS = 6;
  private static final int POSTGRESQL_ALIGNMENT = 8;

  private final Storage storage;

  /** The geometry of one database. */
  public PageGeometry(Storage storage) {
    this.storage = storage;
  }

  /** Bytes of an index entry without its slot in the page directory. */
  public double entryBytes(double dataBytes) {
    return aligned(storage.entryOverhead().value() + dataBytes);
  }

  /** Entries of a leaf page as filled when the index is built; at least 1. */
  public double leafCapacity(double entryBytes) {
    return capacity(entryBytes, storage.leafFill().value());
  }

  /** Entries of an inner page; at least 2, or no tree would end. */
  public double innerCapacity(double pivotBytes) {
    return Math.max(2, capacity(pivotBytes, storage.innerFill().value()));
  }

  private double capacity(double bytes, double fill) {
    return Math.max(1, Math.floor(room(fill) / (bytes + storage.entrySlot().value())));
  }

  /** Bytes of a page that are filled when the index is built. */
  private double room(double fill) {
    double free = Math.floor(storage.pageBytes().value() * (100 - Math.round(fill * 100)) / 100.0);
    return storage.usableBytes().value() - free;
  }

  /**
   * Size of an index.
   *
   * @param entries number of entries
   * @param dataBytes average bytes of key, included and appended columns of a leaf entry
   * @param pivotDataBytes average bytes of the key in an inner page; less than {@code dataBytes}
   *     where the database cuts off what does not tell two pages apart
   * @param confidence how far these can be trusted
   */
  public IndexSize index(
      double entries, double dataBytes, double pivotDataBytes, Confidence confidence) {
    double entryBytes = entryBytes(dataBytes);
    double perLeaf = leafCapacity(entryBytes);
    double leafPages = Math.max(1, Math.ceil(entries / perLeaf));
    return tree(entries, entryBytes, perLeaf, leafPages, pivotDataBytes, confidence);
  }

  /**
   * Size of an index in which rows with the same key may share an entry.
   *
   * <p>Such an entry holds the key and the addresses of its rows; a key with more rows than fit has
   * several. The list of the last entry of a page is cut off where the page's upper limit is
   * stored, so that a page takes that much more (PostgreSQL, {@code _bt_buildadd} in {@code
   * nbtsort.c}, from memory; agrees with the pages counted on PostgreSQL 18.6).
   *
   * @param entries number of rows with an entry
   * @param keys number of different keys among them
   * @param dataBytes average bytes of the key
   * @param pivotDataBytes average bytes of the key in an inner page
   * @param confidence how far these can be trusted
   */
  public IndexSize sharing(
      double entries, double keys, double dataBytes, double pivotDataBytes, Confidence confidence) {
    SharedEntries shared = storage.sharedEntries().value();
    double single = entryBytes(dataBytes);
    double most = shared.maxBytes() < single ? 0 : listed(shared, single);
    if (keys <= 0 || keys >= entries || most < 2) {
      return index(entries, dataBytes, pivotDataBytes, confidence);
    }
    double rows = entries / keys;
    double few = Math.floor(rows);
    double more = rows - few;
    KeyBytes each =
        keyBytes(single, few, most)
            .times(1 - more)
            .plus(keyBytes(single, few + 1, most).times(more));
    double list = each.lists() / each.items();
    double perLeaf =
        Math.max(
            1,
            Math.floor((room(storage.leafFill().value()) + list) / (each.bytes() / each.items())));
    double leafPages = Math.max(1, Math.ceil(keys * each.items() / perLeaf));
    return tree(entries, single, entries / leafPages, leafPages, pivotDataBytes, confidence);
  }

  private static double listed(SharedEntries shared, double single) {
    return Math.floor((shared.maxBytes() - single) / shared.addressBytes());
  }

  /**
   * What the entries of one key take.
   *
   * @param items number of entries
   * @param bytes of the entries, slots included
   * @param lists bytes of these that are addresses of rows
   */
  private record KeyBytes(double items, double bytes, double lists) {
    KeyBytes times(double share) {
      return new KeyBytes(items * share, bytes * share, lists * share);
    }

    KeyBytes plus(KeyBytes other) {
      return new KeyBytes(items + other.items, bytes + other.bytes, lists + other.lists);
    }
  }

  private KeyBytes keyBytes(double single, double rows, double most) {
    double full = Math.floor(rows / most);
    KeyBytes whole = entryOf(single, most).times(full);
    double rest = rows - full * most;
    return rest > 0 ? whole.plus(entryOf(single, rest)) : whole;
  }

  private KeyBytes entryOf(double single, double rows) {
    double bytes =
        rows <= 1
            ? single
            : aligned(single + rows * storage.sharedEntries().value().addressBytes());
    return new KeyBytes(1, bytes + storage.entrySlot().value(), bytes - single);
  }

  /**
   * Size of a table that is stored in the order of its primary key: the rows are the leaf entries.
   *
   * @param rows number of rows
   * @param rowBytes average bytes of the columns of a row
   * @param pivotDataBytes average bytes of the primary key
   * @param confidence how far these can be trusted
   */
  public IndexSize clustered(
      double rows, double rowBytes, double pivotDataBytes, Confidence confidence) {
    double perPage = rowsPerPage(rowBytes);
    double leafPages = tablePages(rows, rowBytes);
    return tree(
        rows,
        rowBytes + storage.rowOverhead().value(),
        perPage,
        leafPages,
        pivotDataBytes,
        confidence);
  }

  private IndexSize tree(
      double entries,
      double entryBytes,
      double perLeaf,
      double leafPages,
      double pivotDataBytes,
      Confidence confidence) {
    double perInner = innerCapacity(entryBytes(pivotDataBytes));
    double pages = leafPages;
    double level = leafPages;
    int height = 0;
    while (level > 1) {
      level = Math.ceil(level / perInner);
      pages += level;
      height++;
    }
    double description = 1;
    return new IndexSize(
        entries, entryBytes, perLeaf, leafPages, height, pages + description, confidence);
  }

  /** Rows of a table page; at least 1, a wider row is taken to continue elsewhere. */
  public double rowsPerPage(double rowBytes) {
    int slot = storage.entrySlot().value();
    double row = aligned(storage.rowOverhead().value() - slot + rowBytes) + slot;
    return Math.max(1, Math.floor(storage.usableBytes().value() / row));
  }

  /** Pages of a table; at least 1. */
  public double tablePages(double rows, double rowBytes) {
    return Math.max(1, Math.ceil(rows / rowsPerPage(rowBytes)));
  }

  private double aligned(double bytes) {
    int alignment = storage.alignment().value();
    return alignment <= 1 ? bytes : Math.ceil(bytes / alignment) * alignment;
  }

  /**
   * Bytes of the largest entry of a PostgreSQL B-tree: one third of a page, three entries being the
   * least that a page must hold ({@code BTMaxItemSize} in {@code src/include/access/nbtree.h}).
   *
   * @param pageBytes size of a page
   * @param rowAddress true when the row's address takes part in the order (since version 12)
   */
  public static int largestPostgresqlItem(int pageBytes, boolean rowAddress) {
    int header = POSTGRESQL_PAGE_HEADER + 3 * POSTGRESQL_LINE_POINTER;
    if (rowAddress) {
      header += 3 * POSTGRESQL_ROW_ADDRESS;
    }
    int alignedHeader =
        (header + POSTGRESQL_ALIGNMENT - 1) / POSTGRESQL_ALIGNMENT * POSTGRESQL_ALIGNMENT;
    int third = (pageBytes - alignedHeader - POSTGRESQL_SPECIAL_SPACE) / 3;
    return third / POSTGRESQL_ALIGNMENT * POSTGRESQL_ALIGNMENT;
  }
}
