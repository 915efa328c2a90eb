package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Entity;
import jakarta.persistence.ManyToOne;

/** Sails. */
@Entity
public class Yacht extends Craft {
  int masts;
  @ManyToOne Client owner;
}
