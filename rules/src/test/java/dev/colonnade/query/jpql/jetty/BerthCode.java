package dev.colonnade.query.jpql.jetty;

/** A part of a berth's row. */
public record BerthCode(Long id, String code) {}
