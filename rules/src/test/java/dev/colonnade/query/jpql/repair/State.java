package dev.colonnade.query.jpql.repair;

/** How far an order is. */
public enum State {
  PLANNED,
  RUNNING,
  DONE
}
