package dev.colonnade.query.jpql;

/** What became of a query over entities. */
public sealed interface JpqlResult {
  /**
   * It was translated.
   *
   * @param sql one statement over the tables, in the database's own words
   */
  record Translated(String sql) implements JpqlResult {}

  /**
   * It was not.
   *
   * @param reason why, one sentence without full stop
   * @param line line of the text, counted from 1
   * @param column column of the text, counted from 1
   */
  record NotTranslated(String reason, int line, int column) implements JpqlResult {}
}
