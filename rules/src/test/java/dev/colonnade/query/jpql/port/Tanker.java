package dev.colonnade.query.jpql.port;

import jakarta.persistence.Entity;

/** Carries liquids. */
@Entity
public class Tanker extends Vessel {
  int tanks;
}
