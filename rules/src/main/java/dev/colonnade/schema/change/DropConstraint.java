package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.Optional;

/**
 * A constraint goes, and with it the index that it owns.
 *
 * @param table the table
 * @param kind what is dropped
 * @param name its name; empty for a primary key dropped without one
 * @param ifExists true when a missing constraint is no error
 * @param cascade true when foreign keys that refer to it go, too
 * @param keepsIndex true when its index stays
 * @param location where it is written
 */
public record DropConstraint(
    Identifier table,
    ConstraintKind kind,
    Optional<Identifier> name,
    boolean ifExists,
    boolean cascade,
    boolean keepsIndex,
    SourceLocation location)
    implements SchemaChange {
  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.dropConstraint(this);
  }
}
