package dev.colonnade.query.jpql.port;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;

/** Where a company is. */
@Embeddable
public class Address {
  String street;

  @Column(name = "town")
  String city;
}
