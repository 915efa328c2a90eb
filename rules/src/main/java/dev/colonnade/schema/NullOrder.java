package dev.colonnade.schema;

/** Where NULLs stand in an order. */
public enum NullOrder {
  /** Not written: the database's own rule for the direction applies. */
  DEFAULT,
  /** NULLS FIRST. */
  FIRST,
  /** NULLS LAST. */
  LAST
}
