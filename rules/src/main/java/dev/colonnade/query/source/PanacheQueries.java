package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.MethodCall.Callee;
import java.util.HashSet;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.Type;

/**
 * The fragments of HQL that Quarkus Panache is given, and the whole queries they stand for (Quarkus
 * guide "Simplified Hibernate ORM with Panache", "Simplified queries").
 */
final class PanacheQueries {
  private static final Set<String> BASES =
      Set.of(
          "io.quarkus.hibernate.orm.panache.PanacheEntityBase",
          "io.quarkus.hibernate.orm.panache.PanacheEntity",
          "io.quarkus.hibernate.orm.panache.kotlin.PanacheEntityBase",
          "io.quarkus.hibernate.reactive.panache.PanacheEntityBase",
          "io.quarkus.hibernate.reactive.panache.PanacheEntity");
  private static final Set<String> REPOSITORIES =
      Set.of(
          "io.quarkus.hibernate.orm.panache.PanacheRepositoryBase",
          "io.quarkus.hibernate.orm.panache.PanacheRepository",
          "io.quarkus.hibernate.orm.panache.kotlin.PanacheRepositoryBase",
          "io.quarkus.hibernate.orm.panache.kotlin.PanacheRepository",
          "io.quarkus.hibernate.reactive.panache.PanacheRepositoryBase",
          "io.quarkus.hibernate.reactive.panache.PanacheRepository");
  private static final Set<String> METHODS =
      Set.of("find", "list", "stream", "count", "delete", "update");

  private final ClassFiles classes;
  private final Forwarders supertypes;

  PanacheQueries(ClassFiles classes, Forwarders supertypes) {
    this.classes = classes;
    this.supertypes = supertypes;
  }

  /** True for a method of Panache that is given a text. */
  boolean isGivenText(Callee callee) {
    if (!METHODS.contains(callee.name())
        || !callee.descriptor().startsWith("(Ljava/lang/String;")) {
      return false;
    }
    Set<String> above = supertypes.supertypes(callee.owner());
    return above.stream().anyMatch(it -> BASES.contains(it) || REPOSITORIES.contains(it));
  }

  /** The class of the entities that the method is about; empty where it is not known. */
  Optional<String> entityClass(Callee callee) {
    return supertypes.supertypes(callee.owner()).stream().anyMatch(BASES::contains)
        ? Optional.of(callee.owner())
        : argument(DotName.createSimple(callee.owner()), new HashSet<>());
  }

  private Optional<String> argument(DotName type, Set<DotName> seen) {
    ClassInfo info = classes.find(type).orElse(null);
    if (info == null || !seen.add(type)) {
      return Optional.empty();
    }
    for (Type parent : info.interfaceTypes()) {
      if (parent.kind() == Type.Kind.PARAMETERIZED_TYPE
          && REPOSITORIES.contains(parent.name().toString())) {
        Type entity = parent.asParameterizedType().arguments().get(0);
        return entity.kind() == Type.Kind.CLASS
            ? Optional.of(entity.name().toString())
            : Optional.empty();
      }
      Optional<String> above = argument(parent.name(), seen);
      if (above.isPresent()) {
        return above;
      }
    }
    return info.superName() == null ? Optional.empty() : argument(info.superName(), seen);
  }

  /**
   * The whole query.
   *
   * @param method the method's name
   * @param text what it is given
   * @param entity name of the entity
   * @return empty for a reference to a named query, which is read where it stands
   */
  static Optional<String> whole(String method, String text, String entity) {
    String given = text.strip();
    String lower = given.toLowerCase(Locale.ROOT);
    if (given.startsWith("#")) {
      return Optional.empty();
    }
    boolean attribute = given.matches("\\w+(\\.\\w+)*");
    return Optional.of(
        switch (method) {
          case "update" -> update(given, lower, entity, attribute);
          case "delete" ->
              lower.startsWith("delete ")
                  ? given
                  : "delete " + from(given, lower, entity, attribute);
          case "count" ->
              lower.startsWith("select ")
                  ? given
                  : "select count(*) " + from(given, lower, entity, attribute);
          default ->
              lower.startsWith("select ") || lower.startsWith("with ")
                  ? given
                  : from(given, lower, entity, attribute);
        });
  }

  private static String from(String given, String lower, String entity, boolean attribute) {
    if (lower.startsWith("from ")) {
      return given;
    }
    String from = "from " + entity;
    if (given.isEmpty()) {
      return from;
    }
    if (lower.startsWith("order by ") || lower.startsWith("where ")) {
      return from + " " + given;
    }
    return from + " where " + given + (attribute ? " = ?1" : "");
  }

  private static String update(String given, String lower, String entity, boolean attribute) {
    if (lower.startsWith("update ")) {
      return given;
    }
    if (lower.startsWith("from ")) {
      return "update " + given.substring("from ".length());
    }
    String set = lower.startsWith("set ") ? given : "set " + given;
    return "update " + entity + " " + set + (attribute ? " = ?1" : "");
  }
}
