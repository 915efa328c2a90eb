package dev.colonnade.query.jpql.port;

import jakarta.persistence.DiscriminatorValue;
import jakarta.persistence.Entity;

/** Gives back. */
@Entity
@DiscriminatorValue("C")
public class CreditNote extends Invoice {
  String reason;
}
