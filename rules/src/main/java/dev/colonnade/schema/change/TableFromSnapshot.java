package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.Optional;

/**
 * A table is built anew from what a reader of the catalog told of it: columns, keys and created
 * indexes. Unique constraints and the directions of index columns are lost; foreign keys of other
 * tables refer from then on to the table under the name that it had for a moment, under which there
 * is none. So Liquibase 4.33.0 does on SQLite (observed, compared in the tests).
 *
 * @param table the table
 * @param counting the column that is an {@code INTEGER} from then on, if the table has it
 * @param required the column that forbids NULL from then on, if the table has it
 * @param location where it is written
 */
public record TableFromSnapshot(
    Identifier table,
    Optional<Identifier> counting,
    Optional<Identifier> required,
    SourceLocation location)
    implements SchemaChange {
  /** A table that is built anew as it was. */
  public TableFromSnapshot(Identifier table, SourceLocation location) {
    this(table, Optional.empty(), Optional.empty(), location);
  }

  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.tableFromSnapshot(this);
  }
}
