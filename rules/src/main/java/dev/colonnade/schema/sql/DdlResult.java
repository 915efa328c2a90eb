package dev.colonnade.schema.sql;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.schema.change.SchemaChange;
import java.util.List;

/**
 * What SQL text does to the schema.
 *
 * @param changes effects in the order of the statements
 * @param notUnderstood statements, or parts of them, that were not understood
 */
public record DdlResult(List<SchemaChange> changes, List<NotUnderstood> notUnderstood) {
  /** Copies the lists. */
  public DdlResult {
    changes = List.copyOf(changes);
    notUnderstood = List.copyOf(notUnderstood);
  }
}
