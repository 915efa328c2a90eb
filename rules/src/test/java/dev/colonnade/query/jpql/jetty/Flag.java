package dev.colonnade.query.jpql.jetty;

/** Where a vessel is registered. */
public enum Flag {
  DENMARK,
  NORWAY
}
