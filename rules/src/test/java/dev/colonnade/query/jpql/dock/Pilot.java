package dev.colonnade.query.jpql.dock;

import java.util.HashSet;
import java.util.Set;

/** Brings vessels in. */
public class Pilot {
  Long id;
  String name;
  Set<Vessel> vessels = new HashSet<>();
}
