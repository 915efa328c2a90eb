package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.Optional;

/**
 * An index is built anew with the bytes of its keys reversed, or no longer reversed (Oracle's SQL
 * Language Reference, ALTER INDEX, rebuild_clause; from memory).
 *
 * @param schema the schema of its table, where written
 * @param name its name
 * @param reverse true when the bytes are reversed from now on
 * @param location where it is written
 */
public record ReverseIndex(
    Optional<Identifier> schema, Identifier name, boolean reverse, SourceLocation location)
    implements SchemaChange {
  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.reverseIndex(this);
  }
}
