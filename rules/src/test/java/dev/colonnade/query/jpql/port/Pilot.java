package dev.colonnade.query.jpql.port;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.ManyToMany;
import jakarta.persistence.PrimaryKeyJoinColumn;
import jakarta.persistence.SecondaryTable;
import java.util.Set;

/** Knows the waters; the licence lies in a table of its own. */
@Entity
@SecondaryTable(name = "licence", pkJoinColumns = @PrimaryKeyJoinColumn(name = "pilot_id"))
public class Pilot {
  @Id Long id;
  String name;

  @Column(table = "licence", name = "licence_no")
  String licence;

  @ManyToMany(mappedBy = "pilots")
  Set<Booking> bookings;
}
