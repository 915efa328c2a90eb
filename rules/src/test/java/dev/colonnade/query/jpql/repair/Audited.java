package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Column;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.Id;
import jakarta.persistence.MappedSuperclass;
import jakarta.persistence.Version;
import java.time.Instant;

/** What most rows carry. */
@MappedSuperclass
public abstract class Audited {
  @Id @GeneratedValue Long id;

  @Column(name = "created_at", nullable = false)
  Instant createdAt;

  Instant updatedAt;
  String createdBy;
  @Version long version;
}
