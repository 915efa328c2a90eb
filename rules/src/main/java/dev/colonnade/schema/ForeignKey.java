package dev.colonnade.schema;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.Optional;

/**
 * A foreign key.
 *
 * @param name its name, if one was given
 * @param columns the referencing columns
 * @param referencedTable the parent table
 * @param referencedColumns the referenced columns; empty where the primary key is meant
 * @param location where it is created
 */
public record ForeignKey(
    Optional<Identifier> name,
    List<Identifier> columns,
    Identifier referencedTable,
    List<Identifier> referencedColumns,
    SourceLocation location) {
  /** Copies the lists. */
  public ForeignKey {
    columns = List.copyOf(columns);
    referencedColumns = List.copyOf(referencedColumns);
  }
}
