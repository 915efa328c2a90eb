package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;

/**
 * The paths that are read along by a repository method with an entity graph: those it names itself,
 * else those of the named graph (Spring Data JPA reference, "Configuring Fetch- and LoadGraphs").
 */
final class EntityGraphs {
  private static final DotName ENTITY_GRAPH =
      DotName.createSimple("org.springframework.data.jpa.repository.EntityGraph");
  private static final List<String> PERSISTENCE =
      List.of("jakarta.persistence.", "javax.persistence.");

  private final ClassFiles classes;

  EntityGraphs(ClassFiles classes) {
    this.classes = classes;
  }

  /** The paths, dots between their names; none without a graph. */
  List<String> paths(MethodInfo method, Optional<String> entityClass) {
    AnnotationInstance graph = method.declaredAnnotation(ENTITY_GRAPH);
    if (graph == null) {
      return List.of();
    }
    AnnotationValue paths = graph.value("attributePaths");
    if (paths != null && paths.asStringArray().length > 0) {
      return List.of(paths.asStringArray());
    }
    Optional<ClassInfo> entity =
        entityClass.flatMap(name -> classes.find(DotName.createSimple(name)));
    if (entity.isEmpty()) {
      return List.of();
    }
    String written = graph.value() == null ? "" : graph.value().asString();
    String name = written.isEmpty() ? entity.get().simpleName() + "." + method.name() : written;
    return graphs(entity.get()).stream()
        .filter(it -> nameOf(it, entity.get()).equals(name))
        .findFirst()
        .map(it -> nodes(it, it, "", 0))
        .orElse(List.of());
  }

  private static String nameOf(AnnotationInstance graph, ClassInfo entity) {
    return graph.value("name") == null ? entity.simpleName() : graph.value("name").asString();
  }

  private static List<AnnotationInstance> graphs(ClassInfo entity) {
    List<AnnotationInstance> result = new ArrayList<>();
    for (String start : PERSISTENCE) {
      AnnotationInstance one =
          entity.declaredAnnotation(DotName.createSimple(start + "NamedEntityGraph"));
      AnnotationInstance several =
          entity.declaredAnnotation(DotName.createSimple(start + "NamedEntityGraphs"));
      if (one != null) {
        result.add(one);
      }
      if (several != null) {
        result.addAll(List.of(several.value().asNestedArray()));
      }
    }
    return result;
  }

  /** The paths of a graph's, or of a part's, nodes; parts may name themselves again. */
  private static List<String> nodes(
      AnnotationInstance graph, AnnotationInstance part, String before, int depth) {
    List<String> result = new ArrayList<>();
    AnnotationValue nodes = part.value("attributeNodes");
    if (nodes == null || depth > 5) {
      return result;
    }
    for (AnnotationInstance node : nodes.asNestedArray()) {
      String path = before + node.value().asString();
      result.add(path);
      AnnotationValue name = node.value("subgraph");
      AnnotationValue parts = graph.value("subgraphs");
      if (name != null && parts != null) {
        for (AnnotationInstance inner : parts.asNestedArray()) {
          if (inner.value("name").asString().equals(name.asString())) {
            result.addAll(nodes(graph, inner, path + ".", depth + 1));
          }
        }
      }
    }
    return result;
  }
}
