package dev.colonnade.mapping;

import java.util.Optional;

/**
 * The column that tells the class of a row.
 *
 * @param column the column
 * @param numeric true where it holds numbers, false where it holds text
 * @param value what it holds for this entity; empty for an abstract one
 */
public record Discriminator(MappedColumn column, boolean numeric, Optional<String> value) {}
