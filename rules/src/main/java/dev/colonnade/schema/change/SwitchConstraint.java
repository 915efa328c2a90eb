package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.List;
import java.util.Optional;

/**
 * A constraint is switched off or on. While it is off, nothing is checked, and a key has no index
 * of its own (Oracle's SQL Language Reference, constraint: DISABLE, ENABLE; from memory).
 *
 * @param table the table
 * @param kind what is switched
 * @param name its name; empty where it is told by its columns, or the primary key
 * @param columns its columns, where there is no name
 * @param on true when it is switched on
 * @param cascade true when foreign keys that refer to it are switched off, too
 * @param keepsIndex true when its index stays
 * @param usingIndex the existing index that is to serve it from now on
 * @param location where it is written
 */
public record SwitchConstraint(
    Identifier table,
    ConstraintKind kind,
    Optional<Identifier> name,
    List<Identifier> columns,
    boolean on,
    boolean cascade,
    boolean keepsIndex,
    Optional<Identifier> usingIndex,
    SourceLocation location)
    implements SchemaChange {
  /** Copies the list. */
  public SwitchConstraint {
    columns = List.copyOf(columns);
  }

  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.switchConstraint(this);
  }
}
