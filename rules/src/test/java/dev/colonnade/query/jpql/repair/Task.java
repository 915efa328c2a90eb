package dev.colonnade.query.jpql.repair;

import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.MapsId;
import java.time.Duration;
import java.time.OffsetDateTime;

/** One thing to do. */
@Entity
public class Task {
  @EmbeddedId TaskId id;

  @MapsId("orderId")
  @ManyToOne(fetch = FetchType.LAZY)
  WorkOrder order;

  @ManyToOne(fetch = FetchType.LAZY)
  Worker worker;

  String title;
  boolean done;
  OffsetDateTime dueAt;
  Duration planned;
}
