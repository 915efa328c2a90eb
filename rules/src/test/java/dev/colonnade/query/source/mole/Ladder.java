package dev.colonnade.query.source.mole;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;

/** An entity that a repository is asked for. */
@Entity
public class Ladder {
  @Id Long id;
  String name;
  Integer rungs;
}
