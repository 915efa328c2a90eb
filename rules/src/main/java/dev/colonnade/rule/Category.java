package dev.colonnade.rule;

/** What a rule looks at; the rule pages are grouped by it. */
public enum Category {
  /** Indexes that cost writes and serve nothing. */
  SURPLUS("Surplus indexes"),
  /** Indexes that exist in a shape that does not fit the queries. */
  SHAPE("Shape of an index"),
  /** Indexes that a query lacks. */
  LACKING("Lacking indexes"),
  /** Conditions that no index can serve as they are written. */
  CONDITION("Conditions as written");

  private final String heading;

  Category(String heading) {
    this.heading = heading;
  }

  /** The heading in the list of rules. */
  public String heading() {
    return heading;
  }
}
