package dev.colonnade.mapping;

import java.util.Optional;

/**
 * What tells the class of a row.
 *
 * @param column the column
 * @param formula what is computed from the row instead, where there is no such column
 * @param numeric true where it holds numbers, false where it holds text
 * @param value what it holds for this entity; empty for an abstract one
 */
public record Discriminator(
    MappedColumn column, Optional<Restriction> formula, boolean numeric, Optional<String> value) {}
