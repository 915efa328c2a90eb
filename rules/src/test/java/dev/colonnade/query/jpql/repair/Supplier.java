package dev.colonnade.query.jpql.repair;

import jakarta.persistence.DiscriminatorValue;
import jakarta.persistence.Entity;

/** Brings parts. */
@Entity
@DiscriminatorValue("2")
public class Supplier extends Party {
  int leadDays;
}
