package dev.colonnade.dialect;

/** Where facts come from when no single page states them. */
final class Sources {
  /** Known to the authors, not confirmed in a document or on a database. */
  static final String MEMORY = "from memory";

  /** Unconfirmed, and chosen so that nothing is claimed that might not hold. */
  static final String CAUTION = "not confirmed; this is the reading that claims less";

  private Sources() {}
}
