package dev.colonnade.query.derived;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.Mapping;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Writes paths in JPQL with the joins they need, as Spring Data JPA does: a reference that may be
 * missing, one that the other side holds, a collection, and what hangs on one of these, are joined
 * from the left; a reference compared as a whole, or its identifier, needs no join.
 */
final class PathWriter {
  private final Mapping mapping;

  /** Aliases by the path that they stand for. */
  private final Map<String, String> aliases = new LinkedHashMap<>();

  private final StringBuilder joins = new StringBuilder();

  PathWriter(Mapping mapping) {
    this.mapping = mapping;
  }

  /** All joins, each with a blank in front. */
  String joins() {
    return joins.toString();
  }

  static boolean isText(Attribute attribute) {
    Attribute value = attribute;
    if (attribute instanceof Attribute.ToMany many
        && many.link() instanceof Link.Elements elements) {
      value = elements.element();
    }
    return value instanceof Attribute.Basic basic
        && basic.type().javaType().equals("java.lang.String");
  }

  /** The path as a value. */
  String value(AttributePath path) {
    return value(path, false);
  }

  /** The path as an item of a list: a reference that may be missing is joined there too. */
  String selected(AttributePath path) {
    return value(path, true);
  }

  private String value(AttributePath path, boolean listed) {
    List<Attribute> attributes = path.attributes();
    String at = "e";
    boolean outer = false;
    for (int i = 0; i < attributes.size(); i++) {
      Attribute attribute = attributes.get(i);
      String next = at + "." + attribute.name();
      if (attribute instanceof Attribute.ToOne one) {
        List<Attribute> rest = attributes.subList(i + 1, attributes.size());
        boolean ends = rest.isEmpty() || isIdentifier(one, rest);
        boolean inverse = one.link() instanceof Link.Inverse;
        boolean optional = one.optional() && !isPartOfIdentifier(attributes.subList(0, i), one);
        outer = (!ends || listed || inverse || outer) && (outer || optional);
        at = ends && !outer ? next : join(next, outer);
      } else if (attribute instanceof Attribute.ToMany) {
        outer = true;
        at = join(next, true);
      } else {
        outer = false;
        at = next;
      }
    }
    return at;
  }

  /** The path to a collection as a whole. */
  String collection(AttributePath path) {
    List<Attribute> attributes = path.attributes();
    return attributes.size() == 1
        ? "e." + path.last().name()
        : value(new AttributePath(attributes.subList(0, attributes.size() - 1)))
            + "."
            + path.last().name();
  }

  /** Joins that read along what the paths lead to; a word that is no attribute reads nothing. */
  String fetches(List<String> fetched, Entity entity) {
    Map<String, String> known = new LinkedHashMap<>();
    StringBuilder result = new StringBuilder();
    for (String path : fetched) {
      String at = "e";
      boolean outer = false;
      Entity holder = entity;
      List<Attribute> attributes = entity.attributes();
      for (String word : path.split("\\.", -1)) {
        Attribute attribute = Entity.find(attributes, word).orElse(null);
        if (attribute == null) {
          break;
        }
        String next = at + "." + word;
        attributes = AttributePath.inside(attribute, mapping);
        if (attribute instanceof Attribute.ToOne || attribute instanceof Attribute.ToMany) {
          outer |= !(attribute instanceof Attribute.ToOne one) || holder.mayLack(one);
          String alias = known.get(next);
          if (alias == null) {
            alias = "f" + (known.size() + 1);
            known.put(next, alias);
            result.append(outer ? " left join fetch " : " join fetch ");
            result.append(next).append(' ').append(alias);
          }
          at = alias;
          holder = target(attribute).orElse(holder);
        } else {
          at = next;
        }
      }
    }
    return result.toString();
  }

  private Optional<Entity> target(Attribute attribute) {
    return attribute instanceof Attribute.ToOne one
        ? mapping.ofClass(one.target())
        : attribute instanceof Attribute.ToMany many
            ? many.target().flatMap(mapping::ofClass)
            : Optional.empty();
  }

  private boolean isIdentifier(Attribute.ToOne one, List<Attribute> rest) {
    return one.link() instanceof Link.OwnColumns && isInIdentifierOf(one, rest.get(0));
  }

  private boolean isInIdentifierOf(Attribute.ToOne one, Attribute attribute) {
    return mapping
        .ofClass(one.target())
        .map(Entity::id)
        .filter(id -> id.stream().anyMatch(it -> it.name().equals(attribute.name())))
        .isPresent();
  }

  /** True for a reference that is one of the attributes that tell its owner from others. */
  private boolean isPartOfIdentifier(List<Attribute> before, Attribute attribute) {
    return !before.isEmpty()
        && before.get(before.size() - 1) instanceof Attribute.ToOne owner
        && isInIdentifierOf(owner, attribute);
  }

  private String join(String path, boolean outer) {
    String known = aliases.get(path);
    if (known != null) {
      return known;
    }
    String alias = "j" + (aliases.size() + 1);
    aliases.put(path, alias);
    joins.append(outer ? " left join " : " join ").append(path).append(' ').append(alias);
    return alias;
  }
}
