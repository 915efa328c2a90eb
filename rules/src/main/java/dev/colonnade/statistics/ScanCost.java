package dev.colonnade.statistics;

import static dev.colonnade.statistics.CostConstants.CACHE_PAGES;
import static dev.colonnade.statistics.CostConstants.INDEX_ENTRY;
import static dev.colonnade.statistics.CostConstants.OPERATOR;
import static dev.colonnade.statistics.CostConstants.OPERATORS_FOR_A_PAGE_OF_DESCENT;
import static dev.colonnade.statistics.CostConstants.RANDOM_PAGE;
import static dev.colonnade.statistics.CostConstants.ROW;
import static dev.colonnade.statistics.CostConstants.SEQUENTIAL_PAGE;

/**
 * Cost of scans as PostgreSQL up to version 17 computes them, in units of one page read in sequence
 * (constants of {@code cost.h}; composition agreed with EXPLAIN of PostgreSQL 15.18 to two
 * decimals). Serves as a common yardstick for all databases: only comparisons between scans of one
 * table are meant.
 */
public final class ScanCost {
  private ScanCost() {}

  /**
   * Cost of sorting rows in memory: two operators a comparison, n log n of them (PostgreSQL's
   * {@code cost_sort}, from memory).
   */
  public static double sort(double rows) {
    return rows <= 1 ? 0 : 2 * OPERATOR * rows * (Math.log(rows) / Math.log(2));
  }

  /**
   * Cost of reading a table from end to end.
   *
   * @param pages pages of the table
   * @param rows rows of the table
   * @param operators comparisons made on each row
   */
  public static double table(double pages, double rows, double operators) {
    return pages * SEQUENTIAL_PAGE + rows * (ROW + OPERATOR * operators);
  }

  /**
   * Cost of the way from the root of an index to the first entry.
   *
   * @param entries entries of the index
   * @param height levels above the leaf pages
   */
  public static double descent(double entries, int height) {
    double comparisons = entries > 1 ? Math.ceil(Math.log(entries) / Math.log(2)) : 0;
    return comparisons * OPERATOR + (height + 1) * OPERATORS_FOR_A_PAGE_OF_DESCENT * OPERATOR;
  }

  /**
   * Cost of reading stretches of an index, without the ways to them and without any visit to the
   * table.
   *
   * @param randomPages leaf pages reached by a jump
   * @param sequentialPages leaf pages that lie behind another one that is read
   * @param entries entries read
   * @param operators comparisons made on each entry
   */
  public static double stretches(
      double randomPages, double sequentialPages, double entries, double operators) {
    return randomPages * RANDOM_PAGE
        + sequentialPages * SEQUENTIAL_PAGE
        + entries * (INDEX_ENTRY + OPERATOR * operators);
  }

  /**
   * Cost of visiting rows of a table in the order of an index. Rows are counted in whole ones, one
   * at least, as PostgreSQL's {@code clamp_row_est} does.
   *
   * @param rows rows visited
   * @param tablePages pages of the table
   * @param tableRows rows of the table
   * @param indexPages pages of the index, which compete for the cache
   * @param correlation how far the order of the visits follows the order of the rows, -1 to 1
   * @param operators comparisons made on each row
   */
  public static double visits(
      double rows,
      double tablePages,
      double tableRows,
      double indexPages,
      double correlation,
      double operators) {
    if (rows <= 0) {
      return 0;
    }
    double cache = Math.ceil(CACHE_PAGES * tablePages / (tablePages + indexPages));
    double whole = Math.max(1, Math.rint(rows));
    double scattered = PageVisits.mackertLohman(whole, tablePages, cache) * RANDOM_PAGE;
    double pagesInOrder = Math.ceil(whole / Math.max(whole, tableRows) * tablePages);
    double inOrder = RANDOM_PAGE + Math.max(0, pagesInOrder - 1) * SEQUENTIAL_PAGE;
    return scattered
        + correlation * correlation * (inOrder - scattered)
        + whole * (ROW + OPERATOR * operators);
  }
}
