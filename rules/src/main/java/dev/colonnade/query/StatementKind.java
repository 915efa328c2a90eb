package dev.colonnade.query;

/** What a statement does. */
public enum StatementKind {
  /** Reads. */
  SELECT,
  /** Inserts rows; the blocks are those of its query and subqueries. */
  INSERT,
  /** Changes rows. */
  UPDATE,
  /** Removes rows. */
  DELETE,
  /** Inserts, changes or removes rows depending on a match. */
  MERGE
}
