package dev.colonnade.query.jpql.port;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.OneToMany;
import java.util.List;
import org.hibernate.annotations.SQLRestriction;

/** Owns vessels, as long as it is not closed. */
@Entity
@SQLRestriction("closed = false")
public class Company extends Base<Long> {
  String name;
  boolean closed;
  @Embedded Address seat;

  @Embedded
  @AttributeOverride(name = "street", column = @Column(name = "billing_street"))
  @AttributeOverride(name = "city", column = @Column(name = "billing_town"))
  Address billing;

  @OneToMany(mappedBy = "owner")
  List<Vessel> vessels;
}
