package dev.colonnade.mapping.xml;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

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
    element.children().forEach(child -> add(packageName, child, Optional.of(name)));
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
