package dev.colonnade.query.jpql.port;

/** How far a booking has come. */
public enum Status {
  REQUESTED,
  CONFIRMED,
  CANCELLED
}
