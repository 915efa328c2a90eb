package dev.colonnade.query.sql;

import dev.colonnade.query.Query;
import dev.colonnade.query.UnanalysedQuery;

/** What became of a query text. */
public sealed interface StatementReading {
  /** It was understood. */
  record Analysed(Query query) implements StatementReading {}

  /** It was not. */
  record NotAnalysed(UnanalysedQuery query) implements StatementReading {}
}
