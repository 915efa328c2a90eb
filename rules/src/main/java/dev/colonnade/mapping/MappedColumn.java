package dev.colonnade.mapping;

import dev.colonnade.predicate.Identifier;

/**
 * A column that holds a value of an entity.
 *
 * @param table the table that it belongs to
 * @param name its name in that table
 */
public record MappedColumn(Identifier table, Identifier name) {}
