package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;

/** What a repair would cost. */
@Entity
public class Quote extends Paper {
  LocalDateSpan valid;

  Money total;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "work_order_id")
  WorkOrder order;
}
