package dev.colonnade.query.jpql.dock;

/** A vessel that carries people. */
public class Ferry extends Vessel {
  int seats;
  String deckPlan;
}
