package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Entity;

/** Fishes. */
@Entity
public class Trawler extends Craft {
  int nets;
}
