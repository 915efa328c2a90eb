package dev.colonnade.query.jpql.jetty;

/** One row below one row. */
public record Receipt(String printedBy) {}
