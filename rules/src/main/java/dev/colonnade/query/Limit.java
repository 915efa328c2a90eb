package dev.colonnade.query;

import java.util.OptionalLong;

/**
 * How many rows are wanted at most.
 *
 * @param rows limit plus offset where both are literals; nothing where a parameter decides
 */
public record Limit(OptionalLong rows) {}
