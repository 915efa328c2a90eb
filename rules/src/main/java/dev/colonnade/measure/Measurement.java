package dev.colonnade.measure;

import dev.colonnade.location.NotUnderstood;
import java.util.List;

/**
 * What a planner said about the queries of a service.
 *
 * @param database name and version as the database tells it
 * @param queries those that the planner answered for
 * @param skipped change sets left out, tables not filled, queries that the database refused
 */
record Measurement(String database, List<MeasuredQuery> queries, List<NotUnderstood> skipped) {
  Measurement {
    queries = List.copyOf(queries);
    skipped = List.copyOf(skipped);
  }
}
