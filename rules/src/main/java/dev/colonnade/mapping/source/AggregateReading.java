package dev.colonnade.mapping.source;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.mapping.Aggregates;
import java.util.List;

/**
 * The aggregates of a service, and what was not understood of them.
 *
 * @param aggregates those that are read
 * @param problems what does not fit the schema, or is not read
 */
public record AggregateReading(Aggregates aggregates, List<NotUnderstood> problems) {
  /** Sorts the list. */
  public AggregateReading {
    problems = problems.stream().distinct().sorted().toList();
  }
}
