package dev.colonnade.mapping.source;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.NamingStrategy;
import java.util.List;
import java.util.Optional;

/**
 * The mapping of a service, and what was not understood of it.
 *
 * @param mapping the entities
 * @param naming how names follow from classes
 * @param guess how the strategy was found out, one sentence without full stop; empty where it was
 *     configured
 * @param problems what does not fit the schema, or is not read
 */
public record MappingReading(
    Mapping mapping, NamingStrategy naming, Optional<String> guess, List<NotUnderstood> problems) {
  /** Sorts the list. */
  public MappingReading {
    problems = problems.stream().distinct().sorted().toList();
  }
}
