package dev.colonnade.query.source.mole;

import io.quarkus.hibernate.orm.panache.PanacheRepositoryBase;
import java.util.List;

/** What repositories have in common. */
abstract class NamedThings<E> implements PanacheRepositoryBase<E, Long> {
  List<E> shared(String name) {
    return list("name", name);
  }
}
