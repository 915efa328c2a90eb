package dev.colonnade.query.derived;

import java.util.Optional;

/** What became of a method's name. */
public sealed interface DerivedResult {
  /**
   * It was understood.
   *
   * @param jpql the query it stands for
   * @param count the query that counts all rows of which a page is given out
   * @param further the query that goes on behind the last row given out; empty where none does
   * @param deletes true where each row that the query finds is then deleted by its identifier
   * @param rows the rows that the name speaks of: what stands behind a select list, without an
   *     order
   */
  record Understood(
      String jpql, String count, Optional<String> further, boolean deletes, String rows)
      implements DerivedResult {}

  /**
   * It was not.
   *
   * @param reason why, one sentence without full stop
   */
  record NotUnderstood(String reason) implements DerivedResult {}
}
