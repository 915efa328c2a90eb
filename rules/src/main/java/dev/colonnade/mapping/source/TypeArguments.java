package dev.colonnade.mapping.source;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.Type;
import org.jboss.jandex.TypeVariable;

/** What the type variables of a superclass stand for in a subclass. */
final class TypeArguments {
  static final TypeArguments NONE = new TypeArguments(Map.of());

  private final Map<String, Type> values;

  private TypeArguments(Map<String, Type> values) {
    this.values = values;
  }

  /** The arguments for {@code superclass}, given as {@code written} in a class with these. */
  TypeArguments ofSuperclass(ClassInfo superclass, Type written) {
    if (written.kind() != Type.Kind.PARAMETERIZED_TYPE) {
      return NONE;
    }
    Map<String, Type> result = new HashMap<>();
    List<TypeVariable> parameters = superclass.typeParameters();
    List<Type> arguments = written.asParameterizedType().arguments();
    for (int i = 0; i < parameters.size() && i < arguments.size(); i++) {
      result.put(parameters.get(i).identifier(), resolve(arguments.get(i)));
    }
    return new TypeArguments(result);
  }

  /** The type with a variable replaced: by what it stands for, else by its bound. */
  Type resolve(Type type) {
    if (type.kind() == Type.Kind.TYPE_VARIABLE) {
      Type value = values.get(type.asTypeVariable().identifier());
      if (value != null) {
        return value;
      }
      List<Type> bounds = type.asTypeVariable().bounds();
      return bounds.isEmpty() ? type : bounds.get(0);
    }
    return type;
  }

  /** The binary name of the type's class; arrays by their descriptor. */
  static String className(Type type) {
    return type.name().toString();
  }

  /** The argument at that place of a parameterized type, where it is a class. */
  Optional<Type> argument(Type type, int place) {
    if (type.kind() != Type.Kind.PARAMETERIZED_TYPE) {
      return type.kind() == Type.Kind.ARRAY
          ? Optional.of(type.asArrayType().constituent())
          : Optional.empty();
    }
    List<Type> arguments = type.asParameterizedType().arguments();
    if (place >= arguments.size()) {
      return Optional.empty();
    }
    Type argument = arguments.get(place);
    if (argument.kind() == Type.Kind.WILDCARD_TYPE) {
      argument = argument.asWildcardType().extendsBound();
    }
    return Optional.of(resolve(argument));
  }
}
