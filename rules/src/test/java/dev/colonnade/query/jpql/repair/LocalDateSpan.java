package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import java.time.LocalDate;

/** From one day to another. */
@Embeddable
public class LocalDateSpan {
  @Column(name = "valid_from")
  LocalDate from;

  @Column(name = "valid_until")
  LocalDate until;
}
