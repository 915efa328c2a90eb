package dev.colonnade.mapping;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** All entities and enums of a service. */
public final class Mapping {
  /** A service without entities. */
  public static final Mapping NONE = new Mapping(List.of(), List.of());

  private final Map<String, Entity> byClass = new TreeMap<>();
  private final Map<String, Entity> byName = new HashMap<>();
  private final Map<String, List<Entity>> children = new HashMap<>();
  private final Map<String, EnumConstants> enums = new HashMap<>();

  /** Two entities of one name: the first in the order of class names stands. */
  public Mapping(Collection<Entity> entities, Collection<EnumConstants> enums) {
    entities.forEach(entity -> byClass.put(entity.className(), entity));
    for (Entity entity : byClass.values()) {
      byName.putIfAbsent(entity.name(), entity);
      entity
          .parent()
          .ifPresent(
              parent -> children.computeIfAbsent(parent, it -> new ArrayList<>()).add(entity));
    }
    enums.forEach(constants -> this.enums.put(constants.className(), constants));
  }

  /** All entities, sorted by class name. */
  public Collection<Entity> entities() {
    return Collections.unmodifiableCollection(byClass.values());
  }

  /** The entity of that name, or of that class. */
  public Optional<Entity> entity(String name) {
    return Optional.ofNullable(byName.get(name)).or(() -> ofClass(name));
  }

  /** The entity of that class. */
  public Optional<Entity> ofClass(String className) {
    return Optional.ofNullable(byClass.get(className));
  }

  /** The entity's children and their children, parents first. */
  public List<Entity> subtypes(Entity entity) {
    List<Entity> result = new ArrayList<>();
    for (Entity child : children.getOrDefault(entity.className(), List.of())) {
      result.add(child);
      result.addAll(subtypes(child));
    }
    return result;
  }

  /** The topmost entity of its hierarchy. */
  public Entity root(Entity entity) {
    return entity.parent().flatMap(this::ofClass).map(this::root).orElse(entity);
  }

  /** The entity itself and its children, without abstract ones. */
  public List<Entity> concreteTypes(Entity entity) {
    List<Entity> result = new ArrayList<>();
    result.add(entity);
    result.addAll(subtypes(entity));
    result.removeIf(Entity::isAbstract);
    return result;
  }

  /** The enum of that class. */
  public Optional<EnumConstants> enumOf(String className) {
    return Optional.ofNullable(enums.get(className));
  }
}
