package dev.colonnade.mapping.xml;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * An element of a mapping file.
 *
 * @param text the text directly in it
 * @param line the line on which it starts
 * @param textLine the line on which its text starts
 */
record XmlElement(
    String name,
    Map<String, String> attributes,
    List<XmlElement> children,
    String text,
    int line,
    int textLine) {
  /** The attribute; empty where it is not given or blank. */
  Optional<String> attribute(String key) {
    return Optional.ofNullable(attributes.get(key)).filter(it -> !it.isBlank());
  }

  boolean is(String key) {
    return "true".equals(attributes.get(key));
  }

  /** The children of that name. */
  List<XmlElement> all(String child) {
    return children.stream().filter(it -> it.name().equals(child)).toList();
  }

  /** The first child of that name. */
  Optional<XmlElement> first(String child) {
    return children.stream().filter(it -> it.name().equals(child)).findFirst();
  }

  /** The text of the first child of that name. */
  Optional<String> textOf(String child) {
    return first(child).map(it -> it.text().strip()).filter(it -> !it.isEmpty());
  }
}
