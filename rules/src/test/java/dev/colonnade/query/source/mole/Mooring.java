package dev.colonnade.query.source.mole;

import io.quarkus.hibernate.orm.panache.PanacheEntityBase;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.NamedQuery;
import java.util.List;

/** An entity that is asked itself. */
@Entity
@NamedQuery(name = "Mooring.deep", query = "from Mooring where depth > ?1")
public class Mooring extends PanacheEntityBase {
  @Id Long id;
  String name;
  Integer depth;
  boolean taken;

  static List<Mooring> own() {
    return list("depth > ?1 order by name", 9);
  }
}
