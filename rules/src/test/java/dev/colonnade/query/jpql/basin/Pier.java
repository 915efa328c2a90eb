package dev.colonnade.query.jpql.basin;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.OneToMany;
import java.util.List;

/** A pier. */
@Entity
public class Pier {
  @Id Long id;
  String name;

  @OneToMany(mappedBy = "pier")
  List<Duty> duties;
}
