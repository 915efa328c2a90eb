package dev.colonnade.query.jpql.basin;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.IdClass;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;

/** A part of a basin, known by the basin and a number. */
@Entity
@IdClass(SlotId.class)
public class Slot {
  @Id
  @ManyToOne(fetch = FetchType.LAZY)
  Basin basin;

  @Id
  @Column(name = "slot_no")
  int number;

  double width;

  /** By what is no identifier. */
  @ManyToOne
  @JoinColumn(name = "keeper_badge", referencedColumnName = "badge_no", nullable = false)
  Foreman keeper;

  @ManyToOne(optional = false)
  @JoinColumn(name = "cleaner_badge", referencedColumnName = "badge_no")
  Foreman cleaner;
}
