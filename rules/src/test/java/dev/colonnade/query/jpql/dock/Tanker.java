package dev.colonnade.query.jpql.dock;

/** A vessel that carries oil. */
public class Tanker extends Vessel {
  int tanks;
  Company charterer;
}
