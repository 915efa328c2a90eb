package dev.colonnade.query.jpql.jetty;

/** A paper under a key. */
public record Document(String content) {}
