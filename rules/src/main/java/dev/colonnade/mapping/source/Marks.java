package dev.colonnade.mapping.source;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.DotName;
import org.jboss.jandex.Type;

/** Looks at annotations by their simple names, in the packages of both ages of the standard. */
final class Marks {
  private static final String NEW = "jakarta.persistence.";
  private static final String OLD = "javax.persistence.";
  private static final String HIBERNATE = "org.hibernate.annotations.";

  private Marks() {}

  /** The annotation of that simple name. */
  static Optional<AnnotationInstance> find(AnnotationTarget target, String simpleName) {
    for (String packageName : List.of(NEW, OLD, HIBERNATE)) {
      AnnotationInstance found =
          target.declaredAnnotation(DotName.createSimple(packageName + simpleName));
      if (found != null) {
        return Optional.of(found);
      }
    }
    return Optional.empty();
  }

  static boolean has(AnnotationTarget target, String simpleName) {
    return find(target, simpleName).isPresent();
  }

  /** True where any of them stands there. */
  static boolean hasAny(AnnotationTarget target, String... simpleNames) {
    for (String name : simpleNames) {
      if (has(target, name)) {
        return true;
      }
    }
    return false;
  }

  /** The annotation itself, or those in its container, in order. */
  static List<AnnotationInstance> all(AnnotationTarget target, String single, String container) {
    List<AnnotationInstance> result = new ArrayList<>();
    find(target, single).ifPresent(result::add);
    find(target, container).ifPresent(found -> result.addAll(nested(found, "value")));
    return result;
  }

  /** A text; empty where it is not given or empty. */
  static Optional<String> text(AnnotationInstance annotation, String attribute) {
    AnnotationValue value = annotation.value(attribute);
    return value == null || value.kind() != AnnotationValue.Kind.STRING
        ? Optional.empty()
        : Optional.of(value.asString()).filter(it -> !it.isBlank());
  }

  /** A text of an annotation that may not be there. */
  static Optional<String> text(Optional<AnnotationInstance> annotation, String attribute) {
    return annotation.flatMap(it -> text(it, attribute));
  }

  /** The name of an enum constant. */
  static Optional<String> constant(AnnotationInstance annotation, String attribute) {
    AnnotationValue value = annotation.value(attribute);
    return value == null || value.kind() != AnnotationValue.Kind.ENUM
        ? Optional.empty()
        : Optional.of(value.asEnum());
  }

  /** The binary name of a class; empty for {@code void}, which stands for none. */
  static Optional<String> type(AnnotationInstance annotation, String attribute) {
    AnnotationValue value = annotation.value(attribute);
    return value == null || value.kind() != AnnotationValue.Kind.CLASS
        ? Optional.empty()
        : Optional.of(value.asClass().name().toString()).filter(it -> !it.equals("void"));
  }

  /** A class as a type; empty for {@code void}, which stands for none. */
  static Optional<Type> classType(AnnotationInstance annotation, String attribute) {
    AnnotationValue value = annotation.value(attribute);
    return value == null || value.kind() != AnnotationValue.Kind.CLASS
        ? Optional.empty()
        : Optional.of(value.asClass()).filter(it -> it.kind() != Type.Kind.VOID);
  }

  /** The annotations in an attribute that holds several. */
  static List<AnnotationInstance> nested(AnnotationInstance annotation, String attribute) {
    AnnotationValue value = annotation.value(attribute);
    return value == null || value.kind() != AnnotationValue.Kind.ARRAY
        ? List.of()
        : value.componentKind() == AnnotationValue.Kind.NESTED
            ? List.of(value.asNestedArray())
            : List.of();
  }
}
