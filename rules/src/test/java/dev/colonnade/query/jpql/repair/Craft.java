package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Inheritance;
import jakarta.persistence.InheritanceType;
import java.util.UUID;
import org.hibernate.annotations.NaturalId;

/** What floats: a table for each class. */
@Entity
@Inheritance(strategy = InheritanceType.TABLE_PER_CLASS)
public abstract class Craft {
  @Id UUID id;

  @NaturalId
  @Column(name = "hull_no")
  String hullNumber;

  double tonnage;
  @Embedded Position lastSeen;
}
