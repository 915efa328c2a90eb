package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.List;

/**
 * Changes that happen when a table is there, and that are no error when it is not.
 *
 * @param table the table
 * @param changes what happens to it
 * @param location where it is written
 */
public record WhereTableExists(
    Identifier table, List<SchemaChange> changes, SourceLocation location) implements SchemaChange {
  /** Copies the list. */
  public WhereTableExists {
    changes = List.copyOf(changes);
  }

  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.whereTableExists(this);
  }
}
