package dev.colonnade.query.jpql.port;

import jakarta.persistence.Entity;

/** A vessel comes in. */
@Entity
public class Entrance extends Movement {
  double draught;
}
