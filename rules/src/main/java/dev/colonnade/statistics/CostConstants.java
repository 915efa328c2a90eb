package dev.colonnade.statistics;

/**
 * Cost of single steps, in units of one page read in sequence: the defaults of PostgreSQL ({@code
 * src/include/optimizer/cost.h}; manual 19.7.2).
 */
public final class CostConstants {
  /** A page read in sequence ({@code seq_page_cost}). */
  public static final double SEQUENTIAL_PAGE = 1.0;

  /** A page read out of sequence ({@code random_page_cost}). */
  public static final double RANDOM_PAGE = 4.0;

  /** A row processed ({@code cpu_tuple_cost}). */
  public static final double ROW = 0.01;

  /** An index entry processed ({@code cpu_index_tuple_cost}). */
  public static final double INDEX_ENTRY = 0.005;

  /** An operator or function evaluated ({@code cpu_operator_cost}). */
  public static final double OPERATOR = 0.0025;

  /** Pages of the cache ({@code effective_cache_size}, 4 GiB in pages of 8 KiB). */
  public static final double CACHE_PAGES = 524_288;

  /** Operators for each page on the way down a tree ({@code DEFAULT_PAGE_CPU_MULTIPLIER}). */
  public static final double OPERATORS_FOR_A_PAGE_OF_DESCENT = 50;

  private CostConstants() {}
}
