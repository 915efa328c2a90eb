package dev.colonnade.query.jpql.dock;

/** An agency that tows. */
public class TugAgency extends Agency {
  int tugs;
}
