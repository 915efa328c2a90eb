package dev.colonnade.query.jpql.repair;

import jakarta.persistence.DiscriminatorColumn;
import jakarta.persistence.Entity;
import jakarta.persistence.Inheritance;
import jakarta.persistence.InheritanceType;
import java.time.LocalDate;

/** Anything that is signed: joined tables with a column that tells them apart. */
@Entity
@Inheritance(strategy = InheritanceType.JOINED)
@DiscriminatorColumn(name = "paper_type")
public abstract class Paper extends Audited {
  String number;
  LocalDate issuedOn;
}
