package dev.colonnade.query.jpql.port;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.PrimaryKeyJoinColumn;

/** Pulls others. */
@Entity
@PrimaryKeyJoinColumn(name = "vessel_id")
public class Tug extends Vessel {
  @Column(name = "bollard_pull")
  int bollardPull;
}
