package dev.colonnade.query.jpql.port;

import jakarta.persistence.Column;
import jakarta.persistence.DiscriminatorColumn;
import jakarta.persistence.DiscriminatorValue;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.OneToOne;
import java.math.BigDecimal;

/** What a stay costs: the root of a single table. */
@Entity
@DiscriminatorColumn(name = "kind")
@DiscriminatorValue("I")
public class Invoice extends Base<Long> {
  @Column(name = "total_due")
  BigDecimal total;

  @OneToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "booking")
  Booking booking;
}
