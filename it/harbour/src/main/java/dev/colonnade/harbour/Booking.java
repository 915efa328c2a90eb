package dev.colonnade.harbour;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import jakarta.persistence.FetchType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;
import java.time.OffsetDateTime;

/** A berth reserved for a call of a vessel. */
@Entity
@Table(name = "booking")
public class Booking {
  @Id
  @GeneratedValue(strategy = GenerationType.IDENTITY)
  private Long id;

  @Column(nullable = false, unique = true)
  private String reference;

  @ManyToOne(fetch = FetchType.LAZY, optional = false)
  @JoinColumn(name = "vessel_id")
  private Vessel vessel;

  @ManyToOne(fetch = FetchType.LAZY, optional = false)
  @JoinColumn(name = "berth_id")
  private Berth berth;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "pilot_id")
  private Pilot pilot;

  @Column(nullable = false)
  private String status;

  @Column(nullable = false)
  private OffsetDateTime arrival;

  @Column(nullable = false)
  private OffsetDateTime departure;

  private String cargo;

  private String note;

  @Column(name = "created_at", nullable = false)
  private OffsetDateTime createdAt;

  protected Booking() {}

  public Long getId() {
    return id;
  }
}
