package dev.colonnade.mapping;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** All aggregates of a service. */
public final class Aggregates {
  /** A service without aggregates. */
  public static final Aggregates NONE = new Aggregates(List.of(), List.of());

  private final Map<String, Aggregate> byClass = new TreeMap<>();
  private final Mapping mapping;

  /** Roots of different classes. */
  public Aggregates(Collection<Aggregate> aggregates, Collection<EnumConstants> enums) {
    List<Entity> entities = new ArrayList<>();
    for (Aggregate aggregate : aggregates) {
      byClass.put(aggregate.root().className(), aggregate);
      entities.add(aggregate.root());
      aggregate.parts().forEach(part -> entities.add(part.entity()));
    }
    this.mapping = new Mapping(entities, enums);
  }

  /** All aggregates, sorted by the class of their roots. */
  public Collection<Aggregate> all() {
    return Collections.unmodifiableCollection(byClass.values());
  }

  /** The aggregate whose root is of that class. */
  public Optional<Aggregate> ofClass(String className) {
    return Optional.ofNullable(byClass.get(className));
  }

  /** Roots and parts as entities. */
  public Mapping mapping() {
    return mapping;
  }
}
