package dev.colonnade.mapping;

import java.util.Optional;

/**
 * Rows that are marked instead of being deleted (Hibernate's {@code @SoftDelete}).
 *
 * @param column what is marked
 * @param live the literal that it holds before, {@code true} and {@code false} for truth values;
 *     empty where it is null before and the moment of the deletion afterwards
 * @param gone the literal that it holds afterwards
 */
public record SoftDelete(MappedColumn column, Optional<String> live, Optional<String> gone) {}
