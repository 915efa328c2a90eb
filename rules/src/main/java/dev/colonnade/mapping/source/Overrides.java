package dev.colonnade.mapping.source;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.AnnotationValue;

/** Columns that an entity or an embedded attribute gives to attributes declared elsewhere. */
final class Overrides {
  static final Overrides NONE = new Overrides(Map.of(), Map.of());

  private final Map<String, AnnotationInstance> columns;
  private final Map<String, List<AnnotationInstance>> joinColumns;

  private Overrides(
      Map<String, AnnotationInstance> columns, Map<String, List<AnnotationInstance>> joinColumns) {
    this.columns = columns;
    this.joinColumns = joinColumns;
  }

  /** These, and what the target adds; what is here already wins. */
  Overrides and(AnnotationTarget target) {
    Map<String, AnnotationInstance> allColumns = new HashMap<>(columns);
    for (AnnotationInstance override :
        Marks.all(target, "AttributeOverride", "AttributeOverrides")) {
      AnnotationValue column = override.value("column");
      if (column != null) {
        allColumns.putIfAbsent(path(override), column.asNested());
      }
    }
    Map<String, List<AnnotationInstance>> allJoinColumns = new HashMap<>(joinColumns);
    for (AnnotationInstance override :
        Marks.all(target, "AssociationOverride", "AssociationOverrides")) {
      List<AnnotationInstance> given = Marks.nested(override, "joinColumns");
      if (!given.isEmpty()) {
        allJoinColumns.putIfAbsent(path(override), given);
      }
    }
    return new Overrides(allColumns, allJoinColumns);
  }

  /** Map elements are written {@code value.street}, list elements plainly. */
  private static String path(AnnotationInstance override) {
    String name = Marks.text(override, "name").orElse("");
    return name.startsWith("value.") ? name.substring("value.".length()) : name;
  }

  /** Those for the attributes inside of an embedded one. */
  Overrides inside(String attribute) {
    return new Overrides(inside(columns, attribute), inside(joinColumns, attribute));
  }

  private static <T> Map<String, T> inside(Map<String, T> all, String attribute) {
    String prefix = attribute + ".";
    Map<String, T> result = new HashMap<>();
    all.forEach(
        (path, value) -> {
          if (path.startsWith(prefix)) {
            result.put(path.substring(prefix.length()), value);
          }
        });
    return result;
  }

  Optional<AnnotationInstance> column(String attribute) {
    return Optional.ofNullable(columns.get(attribute));
  }

  List<AnnotationInstance> joinColumns(String attribute) {
    return joinColumns.getOrDefault(attribute, List.of());
  }
}
