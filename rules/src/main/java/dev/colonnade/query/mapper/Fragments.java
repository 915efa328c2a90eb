package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.XmlNode.Element;
import dev.colonnade.query.mapper.XmlNode.Text;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;

/**
 * The reusable parts of all mapper files, and what statements look like once those they include
 * stand in them.
 */
final class Fragments {
  /** No statement nests includes as deep as this unless they go round in a circle. */
  private static final int DEEPEST_NESTING = 60;

  /**
   * A mapper file.
   *
   * @param file its name, empty where a script is in no file
   * @param namespace the namespace that it declares
   */
  record Source(String file, String namespace) {
    /** A script of an annotation. */
    static final Source NONE = new Source("", "");

    private Stream<String> keys(String name) {
      return Stream.of(file + KEY_SEPARATOR + name, namespace + "." + name);
    }
  }

  /** No file is called so. */
  private static final char KEY_SEPARATOR = '\0';

  /**
   * Where names are looked up.
   *
   * @param statement the file of the statement: what its parts include is taken from there, too
   *     (MyBatis 3.5, XMLIncludeTransformer)
   * @param part the file of the part, for what MyBatis would not find
   */
  private record Home(Source statement, Source part) {}

  private record Fragment(Source source, Element element) {}

  private final Map<String, Fragment> fragments = new HashMap<>();
  private final Map<String, String> properties;
  private final Set<String> guesses = new TreeSet<>();

  Fragments(Map<String, String> properties) {
    this.properties = properties;
  }

  /**
   * Adds a part. The first of a name is kept; files that declare one namespace, of which a service
   * loads one or the other, keep each its own.
   */
  void add(Source source, Element sql) {
    source
        .keys(sql.attribute("id"))
        .forEach(key -> fragments.putIfAbsent(key, new Fragment(source, sql)));
  }

  /**
   * The element with every include replaced by what it names.
   *
   * @throws UnreadableMapperException for an include of something that is not there
   */
  Element expand(Source source, Element element) {
    return expand(new Home(source, source), element, properties, 0);
  }

  private Element expand(Home home, Element element, Map<String, String> values, int depth) {
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
          children.addAll(included(home, nested, values, depth));
        } else {
          children.add(expand(home, nested, values, depth + 1));
        }
      }
    }
    return new Element(element.name(), attributes, children, element.line());
  }

  private List<XmlNode> included(Home home, Element include, Map<String, String> outer, int depth) {
    String name = Properties.replace(include.attribute("refid"), outer);
    Fragment fragment =
        find(home, name)
            .or(() -> withNothing(home, name))
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
      Home inside = new Home(home.statement(), fragment.source());
      return expand(inside, fragment.element(), values, depth + 1).children();
    } catch (UnreadableMapperException e) {
      // The line of the part would be looked up in the file of the statement.
      throw fragment.source().equals(home.part())
          ? e
          : new UnreadableMapperException(e.getMessage(), include.line());
    }
  }

  private Optional<Fragment> find(Home home, String name) {
    return Stream.of(home.statement().keys(name), Stream.of(name), home.part().keys(name))
        .flatMap(keys -> keys)
        .map(fragments::get)
        .filter(Objects::nonNull)
        .findFirst();
  }

  /** The fragment whose name is known but for properties, with nothing in their place. */
  private Optional<Fragment> withNothing(Home home, String name) {
    if (!name.contains("${")) {
      return Optional.empty();
    }
    String known = Properties.REFERENCE.matcher(name).replaceAll("");
    Optional<Fragment> found = find(home, known);
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
