package dev.colonnade.query.jpql.shoal;

import jakarta.persistence.Entity;

/** Kept by Jakarta Persistence, whose mapping is not there. */
@Entity
class Chart {
  Long id;
}
