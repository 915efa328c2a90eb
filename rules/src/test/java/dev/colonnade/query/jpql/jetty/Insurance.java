package dev.colonnade.query.jpql.jetty;

/** What covers a vessel: one row beside it, without an identifier. */
public record Insurance(String policy, String insurer) {}
