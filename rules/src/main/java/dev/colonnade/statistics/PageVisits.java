package dev.colonnade.statistics;

/** How many pages are touched when rows are fetched from a table. */
public final class PageVisits {
  private PageVisits() {}

  /**
   * Pages touched by {@code rows} draws with replacement: {@code m (1 - (1 - 1/m)^k)} (Cardenas,
   * Communications of the ACM 18(5), 1975).
   *
   * @param pages m, pages of the table, at least 1
   * @param rows k, number of rows drawn; a fraction is allowed
   */
  public static double cardenas(double pages, double rows) {
    return rows <= 0 ? 0 : -pages * Math.expm1(rows * Math.log1p(-1 / pages));
  }

  /**
   * Pages touched by {@code rows} different rows chosen at random (Yao, Communications of the ACM
   * 20(4), 1977). The product is taken over the rows of one page instead of the rows fetched, which
   * gives the same value in fewer steps and allows fractions.
   *
   * @param tableRows n, rows of the table
   * @param pages m, pages of the table, at least 1
   * @param rows k, number of rows fetched, at most n
   */
  public static double yao(double tableRows, double pages, double rows) {
    if (rows <= 0) {
      return 0;
    }
    double perPage = tableRows / pages;
    double missed = 1;
    int whole = (int) Math.floor(perPage);
    for (int i = 0; i < whole; i++) {
      missed *= share(tableRows, rows, i);
    }
    double rest = perPage - whole;
    if (rest > 0) {
      missed *= Math.pow(share(tableRows, rows, whole), rest);
    }
    return pages * (1 - missed);
  }

  private static double share(double tableRows, double rows, double taken) {
    double left = tableRows - taken;
    return left <= 0 ? 0 : Math.max(0, left - rows) / left;
  }

  /**
   * Pages read through a cache of limited size (Mackert and Lohman, ACM Transactions on Database
   * Systems 14(3), 1989) as PostgreSQL's {@code index_pages_fetched} in {@code costsize.c} computes
   * them. May exceed the number of pages where the cache is smaller than the table: pages are then
   * read again.
   *
   * @param rows number of rows fetched
   * @param tablePages pages of the table
   * @param cachePages pages of the cache that fall to this table, at least 1
   */
  public static double mackertLohman(double rows, double tablePages, double cachePages) {
    double pages = Math.max(tablePages, 1);
    double cache = Math.max(1, Math.ceil(cachePages));
    double uncached = 2 * pages * rows / (2 * pages + rows);
    if (pages <= cache) {
      return uncached >= pages ? pages : Math.ceil(uncached);
    }
    double limit = 2 * pages * cache / (2 * pages - cache);
    return rows <= limit
        ? Math.ceil(uncached)
        : Math.ceil(cache + (rows - limit) * (pages - cache) / pages);
  }
}
