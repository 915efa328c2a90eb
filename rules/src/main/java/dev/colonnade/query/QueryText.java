package dev.colonnade.query;

import dev.colonnade.location.SourceLocation;
import java.util.OptionalInt;

/**
 * A query as found, before it is understood.
 *
 * @param id stable identity: {@code package.Type.method} or {@code FILE:LINE}
 * @param location where it stands
 * @param source what kind of place that is
 * @param text the text as written
 * @param sql the text in SQL over the physical schema; equal to {@code text} for native queries
 * @param textLine line of the file with the text's first line, where each line of the text is a
 *     line of the file; empty where the text is put together from parts
 */
public record QueryText(
    String id,
    SourceLocation location,
    QuerySource source,
    String text,
    String sql,
    OptionalInt textLine) {

  /** A query of which only the place as a whole is known. */
  public QueryText(
      String id, SourceLocation location, QuerySource source, String text, String sql) {
    this(id, location, source, text, sql, OptionalInt.empty());
  }

  /**
   * Where a line of the text stands: the line itself where it is known, else the query's place.
   *
   * @param line line of the text, counted from 1
   */
  public SourceLocation lineOfText(int line) {
    return textLine.isPresent()
        ? SourceLocation.of(location.file(), textLine.getAsInt() + line - 1)
        : location;
  }
}
