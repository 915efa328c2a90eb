package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Embeddable;

/** On the chart. */
@Embeddable
public class Position {
  Double latitude;
  Double longitude;
}
