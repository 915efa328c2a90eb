package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Column;
import jakarta.persistence.DiscriminatorColumn;
import jakarta.persistence.DiscriminatorType;
import jakarta.persistence.Entity;
import jakarta.persistence.Inheritance;
import jakarta.persistence.InheritanceType;
import jakarta.persistence.Table;

/** Somebody to deal with: a single table with whole numbers to tell kinds apart. */
@Entity
@Table(name = "parties")
@Inheritance(strategy = InheritanceType.SINGLE_TABLE)
@DiscriminatorColumn(name = "party_kind", discriminatorType = DiscriminatorType.INTEGER)
public abstract class Party extends Audited {
  @Column(name = "full_name")
  String name;

  String email;
  boolean isActive;
}
