package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.Optional;

/**
 * A sequence comes, goes or gets another name. It matters to preconditions alone.
 *
 * @param gone the name that goes, if any
 * @param made the name that comes, if any
 * @param location where it is written
 */
public record SequenceChange(
    Optional<Identifier> gone, Optional<Identifier> made, SourceLocation location)
    implements SchemaChange {
  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.sequence(this);
  }
}
