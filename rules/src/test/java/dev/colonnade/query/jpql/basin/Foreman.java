package dev.colonnade.query.jpql.basin;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.io.Serializable;
import java.util.UUID;

/** Who is in charge. */
@Entity
public class Foreman implements Serializable {
  private static final long serialVersionUID = 1L;

  @Id UUID id;

  @Column(name = "badge_no", unique = true, nullable = false)
  String badge;

  String name;
  Integer since;
}
