package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.MapsId;
import jakarta.persistence.OneToOne;

/** Opens doors; shares its key with the worker. */
@Entity
public class Badge {
  @Id Long workerId;

  @MapsId
  @OneToOne(fetch = FetchType.LAZY)
  Worker worker;

  String code;
}
