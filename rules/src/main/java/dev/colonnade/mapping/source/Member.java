package dev.colonnade.mapping.source;

import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.Type;

/**
 * A persistent field or property.
 *
 * @param name the attribute's name
 * @param type its type, variables replaced
 * @param target what carries its annotations
 * @param arguments what type variables stand for where it is declared
 */
record Member(String name, Type type, AnnotationTarget target, TypeArguments arguments) {
  String className() {
    return TypeArguments.className(type);
  }

  boolean isId() {
    return Marks.hasAny(target, "Id", "EmbeddedId");
  }
}
