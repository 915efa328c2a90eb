package dev.colonnade.schema;

/** How an index is built inside. Only ordered indexes have leading columns and an order. */
public enum IndexMethod {
  /** A balanced tree in key order; what every database makes unless told otherwise. */
  BTREE,
  /** Equality look-up of the whole key only. */
  HASH,
  /** A bitmap for each value: equality, no order. */
  BITMAP,
  /** Ordered by the reversed bytes of the key: equality only. */
  REVERSE,
  /** Full-text. */
  FULLTEXT,
  /** Spatial. */
  SPATIAL,
  /**
   * Inverted, generalized search tree, block range, and others that plain comparisons do not use.
   */
  SPECIAL
}
