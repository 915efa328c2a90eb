package dev.colonnade.query.derived;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.Mapping;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Attributes one after another, found in capitalized words run together: the longest name that is
 * an attribute wins and is kept to, underscores part names by force (Spring Data Commons reference,
 * "Property expressions").
 */
record AttributePath(List<Attribute> attributes) {
  private static final Pattern ALL_CAPITALS = Pattern.compile("[A-Z0-9._$]+");
  private static final Pattern PARTS = Pattern.compile("[_.]?([_.]*?[^_.]+)");
  private static final Pattern LAST_WORD = Pattern.compile("\\p{Lu}\\p{Ll}*$");

  AttributePath {
    attributes = List.copyOf(attributes);
  }

  Attribute last() {
    return attributes.get(attributes.size() - 1);
  }

  /** The names with dots between them. */
  String text() {
    return attributes.stream().map(Attribute::name).collect(Collectors.joining("."));
  }

  /** The path; empty where the words are no attributes. */
  static Optional<AttributePath> find(String words, Entity entity, Mapping mapping) {
    List<Attribute> path = new ArrayList<>();
    List<Attribute> attributes = entity.attributes();
    Matcher parts = PARTS.matcher("_" + words);
    while (parts.find()) {
      Optional<List<Attribute>> found = resolve(parts.group(1), "", attributes, mapping);
      if (found.isEmpty()) {
        return Optional.empty();
      }
      path.addAll(found.get());
      attributes = inside(path.get(path.size() - 1), mapping);
    }
    return path.isEmpty() ? Optional.empty() : Optional.of(new AttributePath(path));
  }

  /** The longest head that is an attribute, then what follows inside it. */
  private static Optional<List<Attribute>> resolve(
      String head, String tail, List<Attribute> attributes, Mapping mapping) {
    Optional<Attribute> attribute = Entity.find(attributes, uncapitalized(head));
    if (attribute.isPresent()) {
      List<Attribute> path = new ArrayList<>(List.of(attribute.get()));
      if (tail.isEmpty()) {
        return Optional.of(path);
      }
      return resolve(tail, "", inside(attribute.get(), mapping), mapping)
          .map(
              rest -> {
                path.addAll(rest);
                return path;
              });
    }
    Matcher last = LAST_WORD.matcher(head);
    return last.find() && last.start() > 0
        ? resolve(
            head.substring(0, last.start()),
            head.substring(last.start()) + tail,
            attributes,
            mapping)
        : Optional.empty();
  }

  static List<Attribute> inside(Attribute attribute, Mapping mapping) {
    if (attribute instanceof Attribute.Embedded embedded) {
      return embedded.attributes();
    }
    if (attribute instanceof Attribute.ToOne one) {
      return mapping.ofClass(one.target()).map(Entity::attributes).orElse(List.of());
    }
    if (attribute instanceof Attribute.ToMany many) {
      if (many.link() instanceof Link.Elements elements
          && elements.element() instanceof Attribute.Embedded embedded) {
        return embedded.attributes();
      }
      return many.target().flatMap(mapping::ofClass).map(Entity::attributes).orElse(List.of());
    }
    return List.of();
  }

  private static String uncapitalized(String word) {
    return word.isEmpty() || ALL_CAPITALS.matcher(word).matches()
        ? word
        : Character.toLowerCase(word.charAt(0)) + word.substring(1);
  }
}
