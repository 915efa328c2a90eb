package dev.colonnade.query.jpql.jetty;

/** An opening of a deck. */
public record Hatch(String label) {}
