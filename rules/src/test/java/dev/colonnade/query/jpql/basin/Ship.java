package dev.colonnade.query.jpql.basin;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Inheritance;
import jakarta.persistence.InheritanceType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;

/** A ship. */
@Entity
@Inheritance(strategy = InheritanceType.JOINED)
public class Ship {
  @Id Long id;
  String name;

  @ManyToOne
  @JoinColumn(name = "master_id", nullable = false)
  Foreman master;

  /** One that digs. */
  @Entity(name = "Dredger")
  public static class Dredger extends Ship {
    int buckets;

    @ManyToOne
    @JoinColumn(name = "tender_id", nullable = false)
    Ship tender;
  }

  /** One that carries. */
  @Entity(name = "Barge")
  public static class Barge extends Ship {
    double hold;
  }
}
