package dev.colonnade.query.jpql.basin;

import jakarta.persistence.Column;
import jakarta.persistence.DiscriminatorType;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.OneToOne;
import java.time.Instant;
import java.time.LocalDate;
import org.hibernate.annotations.Any;
import org.hibernate.annotations.AnyDiscriminator;
import org.hibernate.annotations.AnyDiscriminatorValue;
import org.hibernate.annotations.AnyKeyJavaClass;
import org.hibernate.annotations.Formula;

/** A stay of a ship. */
@Entity
public class Visit {
  @Id Long id;

  @ManyToOne
  @JoinColumn(name = "basin_id", referencedColumnName = "basin_id", nullable = false)
  @JoinColumn(name = "slot_no", referencedColumnName = "slot_no", nullable = false)
  Slot slot;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "ship_id", nullable = false)
  Ship ship;

  @OneToOne
  @JoinColumn(name = "permit_id")
  Permit permit;

  LocalDate since;
  LocalDate until;
  Instant noted;

  @Enumerated(EnumType.STRING)
  Basin.Kind kind;

  @Column(name = "csv")
  String list;

  Integer days;

  @Formula("days * 24")
  Integer hours;

  /** Who pays: a ship or a foreman. */
  @Any(fetch = FetchType.LAZY)
  @AnyDiscriminator(DiscriminatorType.STRING)
  @AnyDiscriminatorValue(discriminator = "S", entity = Ship.class)
  @AnyDiscriminatorValue(discriminator = "P", entity = Permit.class)
  @AnyKeyJavaClass(Long.class)
  @Column(name = "payer_kind")
  @JoinColumn(name = "payer_id")
  Object payer;
}
