package dev.colonnade.statistics;

/**
 * Shares of rows that stand in where nothing is stated. Those of PostgreSQL ({@code
 * src/include/utils/selfuncs.h}) where it has one; Selinger and others (SIGMOD 1979) gave the
 * forms.
 */
public final class SelectivityDefaults {
  /** Different values of a column ({@code DEFAULT_NUM_DISTINCT}). */
  public static final double DISTINCT = 200;

  /** One value ({@code DEFAULT_EQ_SEL}): one of {@link #DISTINCT}. */
  public static final double EQUALITY = 0.005;

  /** A range with one end ({@code DEFAULT_INEQ_SEL}); also Selinger's third. */
  public static final double OPEN_RANGE = 0.3333333333333333;

  /** A range with two ends ({@code DEFAULT_RANGE_INEQ_SEL}). */
  public static final double CLOSED_RANGE = 0.005;

  /** A pattern match ({@code DEFAULT_MATCH_SEL}). */
  public static final double PATTERN = 0.005;

  /** NULL in a column that allows it ({@code DEFAULT_UNK_SEL}). */
  public static final double NULLS = 0.005;

  /**
   * Values of a list whose length is known only when the query runs, as PostgreSQL's {@code
   * estimate_array_length} assumes (from memory).
   */
  public static final int LIST_LENGTH = 10;

  /** TRUE, or FALSE, in a boolean column: both are taken to be equally common. */
  public static final double TRUTH = 0.5;

  /**
   * A condition whose structure is unknown: PostgreSQL's {@code function_selectivity} takes a third
   * (from memory).
   */
  public static final double OPAQUE = 0.3333333333333333;

  /**
   * A condition on a subquery, or one that no column of the table takes part in: PostgreSQL's
   * {@code clause_selectivity} takes a half for what it does not handle (from memory).
   */
  public static final double UNDECIDED = 0.5;

  private SelectivityDefaults() {}
}
