package dev.colonnade.mapping;

/**
 * When what an attribute leads to is read, and whether it goes with its owner.
 *
 * @param eager true where it is read as soon as its owner is
 * @param style by what statement
 * @param removal whether it is deleted, too
 */
public record Fetching(boolean eager, Style style, Removal removal) {
  /** When what an attribute leads to is deleted (Jakarta Persistence 3.2, section 3.2.3). */
  public enum Removal {
    /** Not because of the attribute. */
    NEVER,
    /** When its owner is. */
    WITH_OWNER,
    /** When its owner is, and when its owner does not refer to it any more. */
    WHEN_LEFT
  }

  /** By what statement an attribute is read (Hibernate ORM user guide, "Fetching"). */
  public enum Style {
    /** Joined to the owner's statement where the owner is read by its identifier. */
    JOIN,
    /** By a statement of its own for each owner. */
    SELECT,
    /** By a statement for several owners, with a list of their keys. */
    BATCH,
    /** By a statement for all owners that a query has read. */
    SUBSELECT
  }
}
