package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.Embedded;
import jakarta.persistence.FetchType;
import jakarta.persistence.ManyToOne;

/** Where something stands, with a place on the chart and a foreman. */
@Embeddable
public class Site {
  @Column(name = "hall_name")
  String hall;

  @Embedded Position position;

  @ManyToOne(fetch = FetchType.LAZY)
  Worker foreman;
}
