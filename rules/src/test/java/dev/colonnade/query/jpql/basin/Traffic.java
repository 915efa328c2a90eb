package dev.colonnade.query.jpql.basin;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;
import org.hibernate.annotations.Immutable;
import org.hibernate.annotations.Subselect;
import org.hibernate.annotations.Synchronize;

/** How much goes on in a basin: the rows of a query. */
@Entity
@Immutable
@Subselect(
    "select b.id as basin_id, b.code as basin_code, count(v.id) as visit_count from Basin b left"
        + " join Visit v on v.basin_id = b.id group by b.id, b.code")
@Synchronize({"Basin", "Visit"})
public class Traffic {
  @Id
  @Column(name = "basin_id")
  Long id;

  @Column(name = "basin_code")
  String code;

  @Column(name = "visit_count")
  long visits;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "basin_id", insertable = false, updatable = false)
  Basin basin;
}
