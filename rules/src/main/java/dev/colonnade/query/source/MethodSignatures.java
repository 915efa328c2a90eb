package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.Entity;
import dev.colonnade.query.derived.MethodSignature;
import java.beans.Introspector;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;
import org.jboss.jandex.MethodParameterInfo;
import org.jboss.jandex.RecordComponentInfo;
import org.jboss.jandex.Type;

/** Reads what a repository method is given and what it gives. */
final class MethodSignatures {
  private static final String DOMAIN = "org.springframework.data.domain.";

  /** What the compiler adds to the parameters of a Kotlin method that suspends. */
  private static final String CONTINUATION = "kotlin.coroutines.Continuation";

  private static final Set<String> PAGES =
      Set.of(
          DOMAIN + "Page",
          DOMAIN + "Slice",
          DOMAIN + "Window",
          "jakarta.data.page.Page",
          "jakarta.data.page.CursoredPage");
  private static final Set<String> COUNTED = Set.of(DOMAIN + "Page", "jakarta.data.page.Page");
  private static final Set<String> LIMITS =
      Set.of(
          DOMAIN + "Pageable",
          DOMAIN + "PageRequest",
          DOMAIN + "Limit",
          DOMAIN + "ScrollPosition",
          DOMAIN + "KeysetScrollPosition",
          DOMAIN + "OffsetScrollPosition",
          "jakarta.data.Limit",
          "jakarta.data.page.PageRequest");
  private static final Set<String> ORDERS =
      Set.of(DOMAIN + "Sort", DOMAIN + "Sort$Order", "jakarta.data.Order", "jakarta.data.Sort");
  private static final Set<String> OTHERS = Set.of("java.lang.Class", CONTINUATION);
  private static final Set<String> EXPRESSIONS =
      Set.of("org.springframework.beans.factory.annotation.Value");

  private final ClassFiles classes;
  private final EntityGraphs graphs;

  MethodSignatures(ClassFiles classes) {
    this.classes = classes;
    this.graphs = new EntityGraphs(classes);
  }

  /** True where a page is asked for. */
  static boolean isPaged(MethodInfo method) {
    return method.parameterTypes().stream().anyMatch(type -> LIMITS.contains(nameOf(type)));
  }

  /** True where rows behind given keys may be asked for. */
  private static boolean isScrolled(MethodInfo method) {
    return method.parameterTypes().stream()
        .map(MethodSignatures::nameOf)
        .anyMatch(
            name ->
                name.equals(DOMAIN + "ScrollPosition")
                    || name.equals(DOMAIN + "KeysetScrollPosition"));
  }

  /** True where the number of all rows is asked for too. */
  static boolean isCounted(MethodInfo method) {
    return COUNTED.contains(nameOf(result(method)));
  }

  /** The id of the query that counts, where the number of all rows is asked for too. */
  static Optional<String> countId(String id, MethodInfo method) {
    return isCounted(method) ? Optional.of(id + "#count") : Optional.empty();
  }

  /** What the method gives; where it suspends, what it gives in the end. */
  private static Type result(MethodInfo method) {
    List<Type> types = method.parameterTypes();
    if (!types.isEmpty()
        && types.get(types.size() - 1).kind() == Type.Kind.PARAMETERIZED_TYPE
        && nameOf(types.get(types.size() - 1)).equals(CONTINUATION)) {
      Type given = types.get(types.size() - 1).asParameterizedType().arguments().get(0);
      Type bound =
          given.kind() == Type.Kind.WILDCARD_TYPE ? given.asWildcardType().superBound() : given;
      return bound == null ? method.returnType() : bound;
    }
    return method.returnType();
  }

  /** The types of what a caller gives, without what the compiler adds. */
  static List<Type> given(MethodInfo method) {
    return method.parameterTypes().stream()
        .filter(type -> !nameOf(type).equals(CONTINUATION))
        .toList();
  }

  /** True for a type that says how many rows are wanted and in what order. */
  static boolean isPageOrOrder(Type type) {
    return LIMITS.contains(nameOf(type)) || ORDERS.contains(nameOf(type));
  }

  /**
   * The name as it was written: Kotlin's compiler puts a mark behind it where a parameter is of an
   * inline class ("Inline value classes", mangling).
   */
  static String nameOf(MethodInfo method) {
    int mark = method.name().indexOf('-');
    return mark > 0 ? method.name().substring(0, mark) : method.name();
  }

  /** The name of a type; of an array that of what is in it. */
  private static String nameOf(Type type) {
    return type.kind() == Type.Kind.ARRAY
        ? nameOf(type.asArrayType().constituent())
        : type.name().toString();
  }

  /** The signature for a repository of the entity. */
  MethodSignature of(MethodInfo method, Entity entity) {
    int values =
        (int)
            method.parameterTypes().stream()
                .map(MethodSignatures::nameOf)
                .filter(name -> !LIMITS.contains(name) && !ORDERS.contains(name))
                .filter(name -> !OTHERS.contains(name))
                .count();
    return new MethodSignature(
        nameOf(method),
        values,
        isPaged(method),
        isScrolled(method),
        projection(result(method), entity),
        graphs.paths(method, Optional.of(entity.className())));
  }

  /** The properties of a projection; empty where it needs, or may need, the entity. */
  private List<String> projection(Type result, Entity entity) {
    Type element = result;
    while (element.kind() == Type.Kind.PARAMETERIZED_TYPE || element.kind() == Type.Kind.ARRAY) {
      if (element.kind() == Type.Kind.ARRAY) {
        element = element.asArrayType().constituent();
        continue;
      }
      List<Type> arguments = element.asParameterizedType().arguments();
      if (!isContainer(element)) {
        break;
      }
      element = arguments.get(arguments.size() - 1);
    }
    Optional<ClassInfo> type =
        element.kind() == Type.Kind.CLASS || element.kind() == Type.Kind.PARAMETERIZED_TYPE
            ? classes.find(element.name())
            : Optional.empty();
    return type.filter(it -> !it.name().toString().equals(entity.className()))
        .flatMap(this::properties)
        .orElse(List.of());
  }

  private static boolean isContainer(Type type) {
    String name = nameOf(type);
    return PAGES.contains(name)
        || name.startsWith("java.util.")
        || name.startsWith("java.lang.Iterable")
        || name.startsWith("reactor.core.publisher.")
        || name.startsWith("io.reactivex.")
        || name.equals("kotlinx.coroutines.flow.Flow")
        || name.equals("org.springframework.data.util.Streamable");
  }

  private Optional<List<String>> properties(ClassInfo type) {
    if (type.isRecord()) {
      return Optional.of(
          type.recordComponentsInDeclarationOrder().stream()
              .map(RecordComponentInfo::name)
              .toList());
    }
    if (type.isInterface()) {
      return accessors(type);
    }
    return type.isEnum() || type.hasNoArgsConstructor() ? Optional.empty() : constructor(type);
  }

  private Optional<List<String>> accessors(ClassInfo type) {
    List<String> names = new ArrayList<>();
    for (DotName parent : type.interfaceNames()) {
      Optional<List<String>> inherited = classes.find(parent).flatMap(this::accessors);
      if (inherited.isEmpty()) {
        return Optional.empty();
      }
      names.addAll(inherited.get());
    }
    for (MethodInfo method : type.methods()) {
      boolean open =
          method.declaredAnnotations().stream()
              .anyMatch(it -> EXPRESSIONS.contains(it.name().toString()));
      if (open || !method.isAbstract()) {
        return Optional.empty();
      }
      String name = method.name();
      String property =
          name.startsWith("get") && name.length() > 3
              ? Introspector.decapitalize(name.substring(3))
              : name.startsWith("is") && name.length() > 2
                  ? Introspector.decapitalize(name.substring(2))
                  : name;
      names.add(property);
    }
    return Optional.of(names);
  }

  private static Optional<List<String>> constructor(ClassInfo type) {
    List<MethodInfo> constructors = type.constructors();
    if (constructors.size() != 1) {
      return Optional.empty();
    }
    List<String> names = new ArrayList<>();
    for (MethodParameterInfo parameter : constructors.get(0).parameters()) {
      if (parameter.name() == null) {
        return Optional.empty();
      }
      names.add(parameter.name());
    }
    return Optional.of(names);
  }
}
