package dev.colonnade.query.jpql.yard;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.MapsId;
import jakarta.persistence.OneToOne;
import java.io.Serializable;
import org.hibernate.annotations.SQLDelete;

/** Known by a depot and a number. */
@Entity
@SQLDelete(sql = "update Permit set revoked = true where depot_id = ? and permit_no = ?")
public class Permit {
  @EmbeddedId public Key id;
  public boolean revoked;

  @MapsId("depot")
  @ManyToOne(fetch = FetchType.LAZY)
  public Depot depot;

  @OneToOne(fetch = FetchType.LAZY)
  public Crane crane;

  /** The identifier. */
  @Embeddable
  public record Key(Long depot, @Column(name = "permit_no") Integer number)
      implements Serializable {}
}
