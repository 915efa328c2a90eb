package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;

/**
 * A table that goes with its connection: what happens to it leaves no trace in the schema.
 *
 * @param table its name
 * @param location where it is written
 */
public record TemporaryTable(Identifier table, SourceLocation location) implements SchemaChange {
  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.temporaryTable(this);
  }
}
