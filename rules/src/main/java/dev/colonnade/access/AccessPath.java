package dev.colonnade.access;

/** The ways to read a table, most precise first. */
public enum AccessPath {
  /** Every key column of a unique index is bound by equality. */
  UNIQUE_LOOKUP("unique-lookup"),
  /** Leading columns bound the scan and the index holds every column needed. */
  INDEX_ONLY_RANGE_SCAN("index-only-range-scan"),
  /** Leading columns bound the scan; rows are fetched from the table. */
  RANGE_SCAN("range-scan"),
  /** The leading column is unbound, and the database jumps from one value of it to the next. */
  SKIP_SCAN("skip-scan"),
  /** No leading column is bound and the whole index is read. */
  FULL_INDEX_SCAN("full-index-scan"),
  /** The table is read. */
  FULL_TABLE_SCAN("full-table-scan");

  private final String word;

  AccessPath(String word) {
    this.word = word;
  }

  /** The word used in every file and message. */
  public String word() {
    return word;
  }
}
