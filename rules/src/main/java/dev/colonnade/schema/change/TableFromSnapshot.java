package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;

/**
 * A table is built anew from what a reader of the catalog told of it: columns, keys and created
 * indexes. Unique constraints and the directions of index columns are lost. So Liquibase 4.33.0
 * does on SQLite (observed, compared in the tests).
 *
 * @param table the table
 * @param location where it is written
 */
public record TableFromSnapshot(Identifier table, SourceLocation location) implements SchemaChange {
  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.tableFromSnapshot(this);
  }
}
