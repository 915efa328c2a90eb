package dev.colonnade.query.jpql.repair;

import jakarta.persistence.CollectionTable;
import jakarta.persistence.Column;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.FetchType;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.OneToMany;
import jakarta.persistence.OneToOne;
import jakarta.persistence.Temporal;
import jakarta.persistence.TemporalType;
import java.util.Date;
import java.util.List;
import java.util.Set;

/** Does the work. */
@Entity(name = "Hand")
public class Worker extends Audited {
  String firstName;
  String lastName;

  // Deprecated, and found in many services.
  @SuppressWarnings("deprecation")
  @Temporal(TemporalType.DATE)
  Date hiredOn;

  @ManyToOne(fetch = FetchType.LAZY)
  Worker manager;

  @ElementCollection
  @CollectionTable(name = "worker_skill")
  @Enumerated(EnumType.STRING)
  @Column(name = "skill")
  Set<Skill> skills;

  @OneToMany(mappedBy = "worker")
  List<Shift> shifts;

  @OneToOne(mappedBy = "worker", fetch = FetchType.LAZY, optional = false)
  Badge badge;
}
