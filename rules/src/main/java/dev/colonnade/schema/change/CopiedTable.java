package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;

/**
 * A table takes what another one has.
 *
 * @param table the table, which is there already
 * @param source the table that it is like
 * @param what what it takes
 * @param location where it is written
 */
public record CopiedTable(Identifier table, Identifier source, What what, SourceLocation location)
    implements SchemaChange {

  /** What one table takes from another. */
  public enum What {
    /** Columns. */
    COLUMNS,
    /** Columns, and an index under a name that the database chooses for each one. */
    COLUMNS_AND_INDEXES,
    /** Columns, and each index under its name. */
    COLUMNS_AND_NAMED_INDEXES,
    /** Columns and indexes; from then on it follows the other table in both. */
    PARTITION,
    /** Nothing from now on: it was a partition. */
    NOTHING_MORE
  }

  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.copiedTable(this);
  }
}
