package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.Optional;

/**
 * Rows of a table go or come, so that the number counted so far does not stand.
 *
 * @param table the table; empty for any
 * @param emptied true when all rows go; false when the number is not known from now on
 * @param location where it is written
 */
public record RowsChanged(Optional<Identifier> table, boolean emptied, SourceLocation location)
    implements SchemaChange {
  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.rowsChanged(this);
  }
}
