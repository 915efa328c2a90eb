package dev.colonnade.query.derived;

/** What became of a method's name. */
public sealed interface DerivedResult {
  /**
   * It was understood.
   *
   * @param jpql the query it stands for
   * @param count the query that counts all rows of which a page is given out
   */
  record Understood(String jpql, String count) implements DerivedResult {}

  /**
   * It was not.
   *
   * @param reason why, one sentence without full stop
   */
  record NotUnderstood(String reason) implements DerivedResult {}
}
