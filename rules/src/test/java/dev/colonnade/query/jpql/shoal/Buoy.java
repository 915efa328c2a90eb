package dev.colonnade.query.jpql.shoal;

import java.util.List;
import java.util.Set;
import org.springframework.data.annotation.Id;
import org.springframework.data.relational.core.mapping.Table;

/** Holds parts of its own kind; two of its columns are not in the schema. */
@Table("VESSEL")
class Buoy {
  @Id Long id;
  String name;
  String colour;
  List<Mark> marks;
  Set<Buoy> chained;

  /** One of its parts. */
  record Mark(String light) {}
}
