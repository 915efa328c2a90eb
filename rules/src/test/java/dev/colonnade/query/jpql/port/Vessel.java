package dev.colonnade.query.jpql.port;

import jakarta.persistence.CollectionTable;
import jakarta.persistence.Column;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.FetchType;
import jakarta.persistence.Inheritance;
import jakarta.persistence.InheritanceType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.MapKeyColumn;
import jakarta.persistence.OneToMany;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** A ship: the root of joined tables. */
@Entity
@Inheritance(strategy = InheritanceType.JOINED)
public class Vessel extends Base<Long> {
  @Column(name = "vessel_name")
  String name;

  @Enumerated(EnumType.STRING)
  Flag flag;

  double length;

  @ManyToOne(fetch = FetchType.LAZY)
  Company owner;

  @OneToMany(mappedBy = "vessel")
  List<Booking> bookings;

  @ElementCollection Set<String> nicknames;

  @ElementCollection
  @CollectionTable(name = "vessel_paper", joinColumns = @JoinColumn(name = "vessel"))
  @MapKeyColumn(name = "kind")
  @Column(name = "number")
  Map<String, String> papers;
}
