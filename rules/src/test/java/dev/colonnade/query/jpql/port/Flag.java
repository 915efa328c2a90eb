package dev.colonnade.query.jpql.port;

/** Under which a vessel sails. */
public enum Flag {
  DENMARK,
  LIBERIA,
  PANAMA
}
