package dev.colonnade.schema.change;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.List;

/**
 * A primary key, unique constraint or foreign key as it stands at one point of the changes.
 *
 * @param name its name, given or generated
 * @param columns its own columns in order
 */
public record TableKey(ConstraintKind kind, Identifier name, List<Identifier> columns) {
  public TableKey {
    columns = List.copyOf(columns);
  }
}
