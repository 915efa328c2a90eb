package dev.colonnade.query.jpql.yard;

import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.MapsId;
import jakarta.persistence.OneToOne;

/** Known by its depot's identifier. */
@Entity
public class Office {
  @Id public Long id;
  public String phone;

  @OneToOne(fetch = FetchType.LAZY)
  @MapsId
  @JoinColumn(name = "depot_id")
  public Depot depot;
}
