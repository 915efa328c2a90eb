package dev.colonnade.published;

import dev.colonnade.dialect.Dialect;
import java.util.List;

/**
 * One published example.
 *
 * @param id the row that it states: {@code PG-01}
 * @param evidence how the outcome is known: {@code DOC} read in the source, {@code RUN} observed on
 *     the database, {@code SEC} a secondary source, {@code MEM} from memory, {@code COMMON} common
 *     practice
 * @param source the document
 * @param place file and line of the case
 * @param dialect the database
 * @param definitions tables, indexes and statistics, as written
 * @param checks queries with what is expected of them
 */
record PublishedCase(
    String id,
    String evidence,
    String source,
    String place,
    Dialect dialect,
    List<String> definitions,
    List<Check> checks) {

  /**
   * A query and what is expected of it.
   *
   * @param query the SQL
   * @param expectations as written: {@code ix -> match a, b; order yes}
   */
  record Check(String query, List<String> expectations) {}

  @Override
  public String toString() {
    return id + " " + dialect.shortName() + ", " + evidence + ", " + place;
  }
}
