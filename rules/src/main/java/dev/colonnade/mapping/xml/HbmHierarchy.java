package dev.colonnade.mapping.xml;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Which classes of all {@code hbm.xml} files extend which, and how they lie in tables. */
final class HbmHierarchy {
  private static final Map<String, String> STRATEGIES =
      Map.of(
          "subclass",
          "SINGLE_TABLE",
          "joined-subclass",
          "JOINED",
          "union-subclass",
          "TABLE_PER_CLASS");

  private final Map<String, List<String>> columns = new HashMap<>();
  private final Map<String, String> parents = new HashMap<>();
  private final Map<String, String> strategies = new HashMap<>();

  /** Takes in one file. */
  void add(XmlElement root) {
    String packageName = root.attribute("package").orElse("");
    root.children().forEach(child -> add(packageName, child, child.attribute("extends")));
  }

  private void add(String packageName, XmlElement element, Optional<String> parent) {
    String strategy = STRATEGIES.get(element.name());
    if (strategy == null && !element.name().equals("class")) {
      return;
    }
    String name = qualified(packageName, element.attribute("name").orElse(""));
    if (strategy != null) {
      strategies.put(name, strategy);
      parent.ifPresent(it -> parents.put(name, qualified(packageName, it)));
    }
    members(name, element);
    element.children().forEach(child -> add(packageName, child, Optional.of(name)));
  }

  private void members(String className, XmlElement element) {
    for (XmlElement member : element.children()) {
      if (member.name().equals("natural-id") || member.name().equals("properties")) {
        members(className, member);
      }
      Optional<String> name = member.attribute("name");
      if (name.isPresent() && Set.of("id", "property", "many-to-one").contains(member.name())) {
        List<String> written = HbmColumns.names(member);
        columns.put(
            className + "." + name.get(), written.isEmpty() ? List.of(name.get()) : written);
      }
    }
  }

  /** The columns of a property of a class or of one that it extends; none where it has no such. */
  List<String> columnsOf(String className, String property) {
    String at = className;
    for (int i = 0; at != null && i < 32; i++) {
      List<String> found = columns.get(at + "." + property);
      if (found != null) {
        return found;
      }
      at = parents.get(at);
    }
    return List.of();
  }

  /** The property of a class, or of one that it extends, that lies in a column alone. */
  Optional<String> propertyOf(String className, String column) {
    String at = className;
    for (int i = 0; at != null && i < 32; i++) {
      String prefix = at + ".";
      Optional<String> found =
          columns.entrySet().stream()
              .filter(it -> it.getKey().startsWith(prefix))
              .filter(it -> it.getKey().indexOf('.', prefix.length()) < 0)
              .filter(it -> it.getValue().size() == 1)
              .filter(it -> it.getValue().get(0).equalsIgnoreCase(column))
              .map(it -> it.getKey().substring(prefix.length()))
              .sorted()
              .findFirst();
      if (found.isPresent()) {
        return found;
      }
      at = parents.get(at);
    }
    return Optional.empty();
  }

  static String qualified(String packageName, String name) {
    return packageName.isEmpty() || name.indexOf('.') >= 0 ? name : packageName + "." + name;
  }

  /** The strategy of the hierarchy under a root; empty where nothing extends it. */
  Optional<String> strategyBelow(String root) {
    return parents.keySet().stream()
        .filter(child -> root(child).equals(root))
        .sorted()
        .findFirst()
        .map(strategies::get);
  }

  private String root(String name) {
    String at = name;
    for (int i = 0; parents.containsKey(at) && i < 32; i++) {
      at = parents.get(at);
    }
    return at;
  }
}
