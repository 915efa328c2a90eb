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

/** A stay at a berth, from the first line to the last. */
@Entity
@Table(name = "mooring")
public class Mooring {
  @Id
  @GeneratedValue(strategy = GenerationType.IDENTITY)
  private Long id;

  @ManyToOne(fetch = FetchType.LAZY, optional = false)
  @JoinColumn(name = "booking_id")
  private Booking booking;

  @ManyToOne(fetch = FetchType.LAZY, optional = false)
  @JoinColumn(name = "berth_id")
  private Berth berth;

  @Column(nullable = false)
  private short bollard;

  @Column(name = "made_fast_at", nullable = false)
  private OffsetDateTime madeFastAt;

  @Column(name = "cast_off_at")
  private OffsetDateTime castOffAt;

  protected Mooring() {}

  public Long getId() {
    return id;
  }
}
