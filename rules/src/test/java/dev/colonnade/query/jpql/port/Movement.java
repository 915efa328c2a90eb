package dev.colonnade.query.jpql.port;

import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Inheritance;
import jakarta.persistence.InheritanceType;
import jakarta.persistence.ManyToOne;
import java.time.LocalDateTime;

/** In or out: a table for each. */
@Entity
@Inheritance(strategy = InheritanceType.TABLE_PER_CLASS)
public abstract class Movement extends Base<Long> {
  LocalDateTime moment;

  @ManyToOne(fetch = FetchType.LAZY)
  Booking booking;
}
