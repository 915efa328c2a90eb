package dev.colonnade.query.jpql.yard;

import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.Version;

/** Goes with its crane. */
@Entity
public class Inspection {
  @Id public Long id;
  @Version public int version;
  public String result;

  @ManyToOne(fetch = FetchType.LAZY)
  public Crane crane;
}
