package dev.colonnade.schema;

import dev.colonnade.predicate.Identifier;
import java.util.Optional;

/**
 * A column of a table.
 *
 * @param collation the collation declared for it, if any
 */
public record Column(
    Identifier name, ColumnType type, boolean nullable, Optional<String> collation) {

  /** A column with the database's default collation. */
  public static Column of(String name, ColumnType type, boolean nullable) {
    return new Column(Identifier.of(name), type, nullable, Optional.empty());
  }
}
