package dev.colonnade.query.jpql.repair;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.DiscriminatorValue;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.OneToMany;
import java.util.ArrayList;
import java.util.List;

/** Has vessels repaired. */
@Entity
@DiscriminatorValue("1")
public class Client extends Party {
  @Embedded
  @AttributeOverride(name = "amount", column = @Column(name = "credit_amount"))
  @AttributeOverride(name = "currency", column = @Column(name = "credit_currency"))
  Money credit;

  @OneToMany(mappedBy = "client")
  List<WorkOrder> orders = new ArrayList<>();
}
