package dev.colonnade.query.jpql.jetty;

/** Where somebody lives. */
public record Address(String city, String postalCode) {}
