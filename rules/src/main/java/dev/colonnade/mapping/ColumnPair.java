package dev.colonnade.mapping;

import dev.colonnade.predicate.Identifier;

/**
 * A column and the column that it refers to.
 *
 * @param column the referring column
 * @param referenced the column it holds a value of
 */
public record ColumnPair(Identifier column, Identifier referenced) {}
