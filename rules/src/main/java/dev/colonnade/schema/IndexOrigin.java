package dev.colonnade.schema;

/** What brought an index into being. */
public enum IndexOrigin {
  /** Somebody created it. */
  CREATE_INDEX("create-index"),
  /** The database made it for a primary key. */
  PRIMARY_KEY("primary-key"),
  /** The database made it for a unique constraint. */
  UNIQUE_CONSTRAINT("unique-constraint"),
  /** The database made it for a foreign key. */
  FOREIGN_KEY("foreign-key");

  private final String word;

  IndexOrigin(String word) {
    this.word = word;
  }

  /** The word used in files. */
  public String word() {
    return word;
  }

  /** True when a constraint owns the index, so that it cannot be dropped alone. */
  public boolean isConstraint() {
    return this != CREATE_INDEX;
  }
}
