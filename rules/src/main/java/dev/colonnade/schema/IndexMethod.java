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
  /** Inverted: an entry for each value inside a value. Plain comparisons do not use it. */
  GIN,
  /** Generalized search tree. Plain comparisons do not use it. */
  GIST,
  /** Generalized search tree partitioned by space. Plain comparisons do not use it. */
  SPGIST,
  /** Ranges of pages with a summary of each; entries do not lead to rows. */
  BRIN,
  /** Others that plain comparisons do not use. */
  SPECIAL
}
