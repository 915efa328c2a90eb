package dev.colonnade.query.jpql.port;

import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.Table;

/** A place to lie, known by quay and number. */
@Entity
@Table(name = "berth")
public class Berth {
  @EmbeddedId BerthId id;
  double depth;
}
