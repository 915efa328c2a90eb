package dev.colonnade.query.jpql.basin;

import jakarta.persistence.CollectionTable;
import jakarta.persistence.Column;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Embeddable;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToMany;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.MapKeyColumn;
import jakarta.persistence.MapKeyEnumerated;
import jakarta.persistence.OneToMany;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.hibernate.annotations.SQLOrder;

/** A basin. */
@Entity
public class Basin {
  @Id Long id;

  @Column(unique = true)
  String code;

  /** Words that a parser may keep for itself. */
  @Column(name = "settings")
  String settings;

  @Column(name = "statement")
  String statement;

  double depth;
  boolean roofed;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(nullable = false)
  Foreman foreman;

  @OneToMany(mappedBy = "basin")
  @SQLOrder("slot_no desc, width")
  List<Slot> slots;

  @ElementCollection
  @CollectionTable(name = "basin_crew")
  Set<Hand> crew;

  @ElementCollection
  @CollectionTable(name = "basin_fee")
  @MapKeyEnumerated(EnumType.STRING)
  @MapKeyColumn(name = "kind")
  @Column(name = "fee")
  Map<Kind, Integer> fees;

  @ManyToMany Set<Foreman> deputies;

  /** What is charged for. */
  public enum Kind {
    WATER,
    POWER
  }

  /** Somebody with a task. */
  @Embeddable
  public static class Hand {
    @ManyToOne
    @JoinColumn(name = "worker_id", nullable = false)
    Foreman worker;

    @Enumerated(EnumType.STRING)
    Kind kind;

    String task;
  }
}
