package dev.colonnade.query.derived;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.Mapping;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * Attributes one after another, found in capitalized words run together: the longest name that is
 * an attribute wins, underscores part names by force (Spring Data Commons reference, "Property
 * expressions").
 */
record AttributePath(List<Attribute> attributes) {
  private static final Pattern ALL_CAPITALS = Pattern.compile("[A-Z0-9._$]+");

  AttributePath {
    attributes = List.copyOf(attributes);
  }

  Attribute last() {
    return attributes.get(attributes.size() - 1);
  }

  /** The path; empty where the words are no attributes. */
  static Optional<AttributePath> find(String words, Entity entity, Mapping mapping) {
    return find(words, entity.attributes(), mapping)
        .or(() -> bySubtypes(words, entity, mapping))
        .map(AttributePath::new);
  }

  private static Optional<List<Attribute>> bySubtypes(
      String words, Entity entity, Mapping mapping) {
    return mapping.subtypes(entity).stream()
        .map(subtype -> find(words, subtype.attributes(), mapping))
        .flatMap(Optional::stream)
        .findFirst();
  }

  private static Optional<List<Attribute>> find(
      String words, List<Attribute> attributes, Mapping mapping) {
    int forced = words.indexOf('_', 1);
    int longest = forced > 0 ? forced : words.length();
    Optional<List<Attribute>> whole = withHead(words, words.length(), attributes, mapping);
    if (whole.isPresent()) {
      return whole;
    }
    for (int end = longest; end > 0; end--) {
      boolean boundary =
          end == longest || (end < words.length() && Character.isUpperCase(words.charAt(end)));
      if (boundary) {
        Optional<List<Attribute>> found = withHead(words, end, attributes, mapping);
        if (found.isPresent()) {
          return found;
        }
      }
    }
    return Optional.empty();
  }

  private static Optional<List<Attribute>> withHead(
      String words, int end, List<Attribute> attributes, Mapping mapping) {
    String head = words.substring(0, end);
    Optional<Attribute> attribute =
        Entity.find(attributes, uncapitalized(head)).or(() -> Entity.find(attributes, head));
    if (attribute.isEmpty() || end == words.length()) {
      return attribute.map(List::of);
    }
    String rest = words.charAt(end) == '_' ? words.substring(end + 1) : words.substring(end);
    return find(rest, inside(attribute.get(), mapping), mapping)
        .map(
            tail -> {
              List<Attribute> path = new ArrayList<>();
              path.add(attribute.get());
              path.addAll(tail);
              return path;
            });
  }

  private static List<Attribute> inside(Attribute attribute, Mapping mapping) {
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
    return word.isEmpty() || (word.length() > 1 && ALL_CAPITALS.matcher(word).matches())
        ? word
        : Character.toLowerCase(word.charAt(0)) + word.substring(1);
  }
}
