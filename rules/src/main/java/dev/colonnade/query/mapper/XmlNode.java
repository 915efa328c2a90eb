package dev.colonnade.query.mapper;

import java.util.List;
import java.util.Map;

/** What a mapper consists of. */
sealed interface XmlNode {
  /** The line on which it starts, counted from 1. */
  int line();

  /** An element. */
  record Element(String name, Map<String, String> attributes, List<XmlNode> children, int line)
      implements XmlNode {
    /** The attribute, or an empty text. */
    String attribute(String key) {
      return attributes.getOrDefault(key, "");
    }

    /** The child elements. */
    List<Element> elements() {
      return children.stream().filter(Element.class::isInstance).map(Element.class::cast).toList();
    }
  }

  /** Text between elements; a CDATA section is text. */
  record Text(String text, int line) implements XmlNode {}
}
