package dev.colonnade.query.jpql.yard;

import jakarta.persistence.DiscriminatorValue;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Inheritance;
import jakarta.persistence.InheritanceType;
import org.hibernate.annotations.DiscriminatorFormula;

/** Told apart by a formula. */
@Entity
@Inheritance(strategy = InheritanceType.SINGLE_TABLE)
@DiscriminatorFormula("case when height is null then 'open' else 'roofed' end")
@DiscriminatorValue("open")
public class Gate {
  @Id public Integer id;
  public Integer width;

  /** With a roof. */
  @Entity
  @DiscriminatorValue("roofed")
  public static class Roofed extends Gate {
    public Integer height;
  }
}
