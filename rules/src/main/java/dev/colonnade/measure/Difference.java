package dev.colonnade.measure;

/**
 * One difference between plan and prediction.
 *
 * @param kind what differs
 * @param small true where the table is so small that little depends on it
 * @param text for people
 */
record Difference(Kind kind, boolean small, String text) {
  /** What differs. */
  enum Kind {
    /** What an index does: the columns that are sought by, the table left alone, the order. */
    PATH,
    /** Which index is taken, or none. */
    CHOICE
  }
}
