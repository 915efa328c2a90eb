package dev.colonnade.query.jpql.port;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.JoinTable;
import jakarta.persistence.ManyToMany;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.OneToMany;
import jakarta.persistence.OneToOne;
import jakarta.persistence.OrderBy;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Set;

/** A stay. */
@Entity
public class Booking extends Base<Long> {
  String reference;
  LocalDateTime arrival;
  LocalDateTime departure;
  Status status;
  boolean paid;

  @Column(name = "cargo_tons")
  Integer cargoTons;

  @ManyToOne(fetch = FetchType.LAZY, optional = false)
  Vessel vessel;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "quay", referencedColumnName = "quay")
  @JoinColumn(name = "berth_no", referencedColumnName = "berth_no")
  Berth berth;

  @ManyToMany
  @JoinTable(
      name = "booking_pilot",
      joinColumns = @JoinColumn(name = "booking"),
      inverseJoinColumns = @JoinColumn(name = "pilot"))
  Set<Pilot> pilots;

  @OneToMany(mappedBy = "booking")
  @OrderBy("written desc")
  List<Note> notes;

  @OneToOne(mappedBy = "booking", fetch = FetchType.LAZY)
  Invoice invoice;
}
