package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.List;

/**
 * A unique constraint goes that is named by its columns.
 *
 * @param table the table
 * @param columns its columns
 * @param location where it is written
 */
public record DropUniqueKey(Identifier table, List<Identifier> columns, SourceLocation location)
    implements SchemaChange {
  /** Copies the list. */
  public DropUniqueKey {
    columns = List.copyOf(columns);
  }

  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.dropUniqueKey(this);
  }
}
