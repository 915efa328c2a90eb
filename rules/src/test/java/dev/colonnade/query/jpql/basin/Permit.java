package dev.colonnade.query.jpql.basin;

import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.OneToOne;

/** A permit. */
@Entity
public class Permit {
  @Id Long id;
  String number;

  @OneToOne(mappedBy = "permit", fetch = FetchType.LAZY)
  Visit visit;

  @ManyToOne(optional = false, fetch = FetchType.LAZY)
  Foreman signer;
}
