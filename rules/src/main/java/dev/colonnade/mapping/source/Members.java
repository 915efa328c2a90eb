package dev.colonnade.mapping.source;

import java.beans.Introspector;
import java.lang.reflect.Modifier;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.FieldInfo;
import org.jboss.jandex.MethodInfo;
import org.jboss.jandex.Type;

/** Finds the persistent members of a class under its access (Jakarta Persistence 3.2, 2.3). */
final class Members {
  /** Where annotations and values of a class are. */
  enum Access {
    FIELD,
    PROPERTY
  }

  private Members() {}

  /** Where the identifier's annotation stands, if the class has one. */
  static Optional<Access> accessByIdentifier(ClassInfo type) {
    if (type.fields().stream().anyMatch(field -> Marks.hasAny(field, "Id", "EmbeddedId"))) {
      return Optional.of(Access.FIELD);
    }
    return type.methods().stream().anyMatch(method -> Marks.hasAny(method, "Id", "EmbeddedId"))
        ? Optional.of(Access.PROPERTY)
        : Optional.empty();
  }

  /** What the class says of its access itself, else the given one. */
  static Access access(AnnotationTarget target, Access otherwise) {
    return Marks.find(target, "Access")
        .flatMap(annotation -> Marks.constant(annotation, "value"))
        .map(Access::valueOf)
        .orElse(otherwise);
  }

  /** The persistent members that the class itself declares, in declared order. */
  static List<Member> of(ClassInfo type, Access inherited, TypeArguments arguments) {
    Access access = access(type, inherited);
    Map<String, Member> result = new LinkedHashMap<>();
    for (MethodInfo method : type.methodsInDeclarationOrder()) {
      Optional<String> property = property(method);
      if (property.isPresent() && isChosen(method, Access.PROPERTY, access)) {
        add(result, property.get(), method.returnType(), method, arguments);
      }
    }
    for (FieldInfo field : type.fieldsInDeclarationOrder()) {
      if (isPersistent(field) && isChosen(field, Access.FIELD, access)) {
        add(result, field.name(), field.type(), field, arguments);
      }
    }
    return new ArrayList<>(result.values());
  }

  /**
   * True under the class's access, or where the member asks for its own kind; to ask for the other
   * kind has no effect (Hibernate ORM user guide, "Access strategies").
   */
  private static boolean isChosen(AnnotationTarget member, Access own, Access ofClass) {
    return ofClass == own
        || Marks.find(member, "Access")
            .flatMap(annotation -> Marks.constant(annotation, "value"))
            .filter(own.name()::equals)
            .isPresent();
  }

  private static void add(
      Map<String, Member> members,
      String name,
      Type type,
      AnnotationTarget target,
      TypeArguments arguments) {
    Type resolved =
        Marks.find(target, "Target")
            .map(AnnotationInstance::value)
            .map(value -> value.asClass())
            .orElseGet(() -> arguments.resolve(type));
    members.putIfAbsent(name, new Member(name, resolved, target, arguments));
  }

  private static boolean isPersistent(FieldInfo field) {
    return !Modifier.isStatic(field.flags())
        && !Modifier.isTransient(field.flags())
        && !field.isSynthetic()
        && !field.name().startsWith("$")
        && !Marks.has(field, "Transient");
  }

  private static Optional<String> property(MethodInfo method) {
    if (method.parametersCount() > 0
        || Modifier.isStatic(method.flags())
        || method.isSynthetic()
        || method.returnType().kind() == Type.Kind.VOID
        || Marks.has(method, "Transient")) {
      return Optional.empty();
    }
    String name = method.name();
    if (name.startsWith("get") && name.length() > 3) {
      return Optional.of(Introspector.decapitalize(name.substring(3)));
    }
    return name.startsWith("is") && name.length() > 2
        ? Optional.of(Introspector.decapitalize(name.substring(2)))
        : Optional.empty();
  }
}
