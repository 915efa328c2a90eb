package dev.colonnade.query.jpql.jetty;

/** Something said of a booking. */
public record Remark(String text, String author) {}
