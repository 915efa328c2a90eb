package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.Type;
import org.jboss.jandex.TypeVariable;

/**
 * What the repositories of a library are for: the first type argument that their interface is given
 * by a class of the service, itself or through what it extends.
 */
final class DomainTypes {
  private final ClassFiles classes;
  private final Predicate<DotName> bases;

  /**
   * Looks up type arguments.
   *
   * @param bases the library's interfaces
   */
  DomainTypes(ClassFiles classes, Predicate<DotName> bases) {
    this.classes = classes;
    this.bases = bases;
  }

  /** The argument: a class, or a type variable of this type; empty where it is given none. */
  Optional<Type> of(ClassInfo type) {
    return of(type, new HashSet<>());
  }

  private Optional<Type> of(ClassInfo type, Set<DotName> seen) {
    if (!seen.add(type.name())) {
      return Optional.empty();
    }
    List<Type> parents = new ArrayList<>(type.interfaceTypes());
    if (type.superClassType() != null) {
      parents.add(type.superClassType());
    }
    for (Type parent : parents) {
      List<Type> arguments =
          parent.kind() == Type.Kind.PARAMETERIZED_TYPE
              ? parent.asParameterizedType().arguments()
              : List.of();
      if (!arguments.isEmpty() && bases.test(parent.name())) {
        return Optional.of(arguments.get(0));
      }
      Optional<Type> inherited =
          classes
              .lookUp(parent.name())
              .map(ClassFile::info)
              .flatMap(above -> of(above, seen).map(found -> substitute(found, above, arguments)));
      if (inherited.isPresent()) {
        return inherited;
      }
    }
    return Optional.empty();
  }

  private static Type substitute(Type type, ClassInfo declaredBy, List<Type> arguments) {
    if (type.kind() != Type.Kind.TYPE_VARIABLE) {
      return type;
    }
    List<TypeVariable> parameters = declaredBy.typeParameters();
    for (int i = 0; i < parameters.size() && i < arguments.size(); i++) {
      if (parameters.get(i).identifier().equals(type.asTypeVariable().identifier())) {
        return arguments.get(i);
      }
    }
    return type;
  }
}
