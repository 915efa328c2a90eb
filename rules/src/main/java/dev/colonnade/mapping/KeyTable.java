package dev.colonnade.mapping;

import dev.colonnade.predicate.Identifier;

/**
 * A table that gives out identifiers ({@code @TableGenerator}).
 *
 * @param table the table
 * @param key the column that names the sequence of numbers
 * @param value the column with the next number
 */
public record KeyTable(Identifier table, Identifier key, Identifier value) {}
