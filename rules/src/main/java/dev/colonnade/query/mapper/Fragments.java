package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.XmlNode.Element;
import dev.colonnade.query.mapper.XmlNode.Text;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * The reusable parts of all mapper files, and what statements look like once those they include
 * stand in them.
 */
final class Fragments {
  /** No statement nests includes as deep as this unless they go round in a circle. */
  private static final int DEEPEST_NESTING = 60;

  private record Fragment(String namespace, Element element) {}

  private final Map<String, Fragment> fragments = new HashMap<>();
  private final Map<String, String> properties;
  private final Set<String> guesses = new TreeSet<>();

  Fragments(Map<String, String> properties) {
    this.properties = properties;
  }

  /** Adds a part. The first of a name is kept. */
  void add(String namespace, Element sql) {
    fragments.putIfAbsent(namespace + "." + sql.attribute("id"), new Fragment(namespace, sql));
  }

  /**
   * The element with every include replaced by what it names.
   *
   * @throws UnreadableMapperException for an include of something that is not there
   */
  Element expand(String namespace, Element element) {
    return expand(namespace, element, properties, 0);
  }

  private Element expand(String namespace, Element element, Map<String, String> values, int depth) {
    if (depth > DEEPEST_NESTING) {
      throw new UnreadableMapperException(
          "the includes or elements are nested too deeply", element.line());
    }
    Map<String, String> attributes = new LinkedHashMap<>();
    element
        .attributes()
        .forEach((name, value) -> attributes.put(name, Properties.replace(value, values)));
    List<XmlNode> children = new ArrayList<>();
    for (XmlNode child : element.children()) {
      if (child instanceof Text text) {
        children.add(new Text(Properties.replace(text.text(), values), text.line()));
      } else if (child instanceof Element nested) {
        if (nested.name().equals("include")) {
          children.addAll(included(namespace, nested, values, depth));
        } else {
          children.add(expand(namespace, nested, values, depth + 1));
        }
      }
    }
    return new Element(element.name(), attributes, children, element.line());
  }

  private List<XmlNode> included(
      String namespace, Element include, Map<String, String> outer, int depth) {
    String name = Properties.replace(include.attribute("refid"), outer);
    Fragment fragment =
        find(namespace, name)
            .or(() -> withNothing(namespace, name))
            .orElseThrow(
                () ->
                    new UnreadableMapperException(
                        "no mapper file holds the fragment '" + name + "' that is included",
                        include.line()));
    Map<String, String> values = new HashMap<>(outer);
    for (Element property : include.elements()) {
      values.put(
          property.attribute("name"), Properties.replace(property.attribute("value"), outer));
    }
    try {
      return expand(fragment.namespace(), fragment.element(), values, depth + 1).children();
    } catch (UnreadableMapperException e) {
      // The line of the part would be looked up in the file of the statement.
      throw fragment.namespace().equals(namespace)
          ? e
          : new UnreadableMapperException(e.getMessage(), include.line());
    }
  }

  private Optional<Fragment> find(String namespace, String name) {
    return Optional.ofNullable(fragments.get(namespace + "." + name))
        .or(() -> Optional.ofNullable(fragments.get(name)));
  }

  /** The fragment whose name is known but for properties, with nothing in their place. */
  private Optional<Fragment> withNothing(String namespace, String name) {
    if (!name.contains("${")) {
      return Optional.empty();
    }
    String known = Properties.REFERENCE.matcher(name).replaceAll("");
    Optional<Fragment> found = find(namespace, known);
    if (found.isPresent()) {
      guesses.add("the fragment '" + name + "' that is included is taken for '" + known + "'");
    }
    return found;
  }

  /** What had to be supposed of names of fragments. */
  Set<String> guesses() {
    return guesses;
  }
}
