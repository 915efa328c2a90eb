package dev.colonnade.query.jpql.jetty;

/** A part of a tug's row. */
public record TugName(String name) {}
