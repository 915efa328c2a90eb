package dev.colonnade.query.jpql.dock;

import java.util.HashSet;
import java.util.Set;

/** Owns vessels. */
public class Company {
  Long id;
  String code;
  String name;
  Set<Vessel> fleet = new HashSet<>();
  Set<Note> notes = new HashSet<>();

  public void setCode(String value) {
    code = value;
  }

  public Set<Vessel> vessels() {
    return fleet;
  }
}
