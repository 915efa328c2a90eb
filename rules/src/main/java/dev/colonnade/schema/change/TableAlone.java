package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;

/**
 * A change of a table that its partitions do not follow, as {@code CREATE INDEX ... ON ONLY} and
 * {@code ALTER TABLE ONLY} say it (https://www.postgresql.org/docs/18/sql-createindex.html).
 *
 * @param change what happens to the table
 */
public record TableAlone(SchemaChange change) implements SchemaChange {
  @Override
  public SourceLocation location() {
    return change.location();
  }

  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.tableAlone(this);
  }
}
