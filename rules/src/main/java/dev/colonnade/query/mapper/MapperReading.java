package dev.colonnade.query.mapper;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import java.util.List;

/**
 * What mappers hold.
 *
 * @param queries the variants of every statement
 * @param unanalysed statements of which no text is known
 * @param notes files that cannot be read, elements that are not known, variants left out,
 *     statements without a text
 * @param withoutText how many statements have no text before run time
 */
public record MapperReading(
    List<QueryText> queries,
    List<UnanalysedQuery> unanalysed,
    List<NotUnderstood> notes,
    int withoutText) {
  /** Copies the lists. */
  public MapperReading {
    queries = List.copyOf(queries);
    unanalysed = List.copyOf(unanalysed);
    notes = List.copyOf(notes);
  }
}
