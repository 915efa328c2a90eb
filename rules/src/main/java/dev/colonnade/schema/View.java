package dev.colonnade.schema;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.Optional;

/**
 * A view: a name for a query.
 *
 * @param definition the query's text, if known
 */
public record View(Identifier name, Optional<String> definition, SourceLocation location) {}
