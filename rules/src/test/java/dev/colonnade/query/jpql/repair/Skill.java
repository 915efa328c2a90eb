package dev.colonnade.query.jpql.repair;

/** What a worker can do. */
public enum Skill {
  WELDING,
  PAINTING,
  RIGGING
}
