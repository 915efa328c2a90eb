package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import java.lang.reflect.Modifier;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.FieldInfo;
import org.jboss.jandex.MethodInfo;
import org.jboss.jandex.Type;

/**
 * A property as Spring Data's relational stores see it: a field, with the annotations of its
 * accessors (Spring Data Commons reference, "Object Mapping Fundamentals").
 *
 * @param name the field's name
 * @param type its type, variables replaced
 * @param targets the field and its accessors
 * @param arguments what type variables stand for where it is declared
 */
record RelationalProperty(
    String name, Type type, List<AnnotationTarget> targets, TypeArguments arguments) {
  RelationalProperty {
    targets = List.copyOf(targets);
  }

  /** The properties of a class, those of its superclasses first. */
  static List<RelationalProperty> of(
      ClassInfo type, TypeArguments arguments, ClassFiles classes, RelationalMarks marks) {
    Map<String, RelationalProperty> result = new LinkedHashMap<>();
    Type above = type.superClassType();
    Optional<ClassInfo> parent =
        above == null || above.name().toString().startsWith("java.")
            ? Optional.empty()
            : classes.lookUp(above.name()).map(ClassFile::info);
    if (parent.isPresent()) {
      of(parent.get(), arguments.ofSuperclass(parent.get(), above), classes, marks)
          .forEach(it -> result.put(it.name(), it));
    }
    for (FieldInfo field : type.fieldsInDeclarationOrder()) {
      if (isProperty(field)) {
        List<AnnotationTarget> targets = new ArrayList<>(List.of(field));
        targets.addAll(accessors(type, field.name()));
        if (!marks.has(targets, RelationalMarks.TRANSIENT)
            && !marks.has(targets, RelationalMarks.VALUE)) {
          result.put(
              field.name(),
              new RelationalProperty(
                  field.name(), arguments.resolve(field.type()), targets, arguments));
        }
      }
    }
    return new ArrayList<>(result.values());
  }

  private static boolean isProperty(FieldInfo field) {
    return !Modifier.isStatic(field.flags())
        && !field.isSynthetic()
        && !field.name().startsWith("this$");
  }

  private static List<AnnotationTarget> accessors(ClassInfo type, String name) {
    String capitalized = name.substring(0, 1).toUpperCase(Locale.ROOT) + name.substring(1);
    List<AnnotationTarget> result = new ArrayList<>();
    for (MethodInfo method : type.methods()) {
      boolean reads =
          method.parametersCount() == 0
              && List.of("get" + capitalized, "is" + capitalized).contains(method.name());
      boolean writes = method.parametersCount() == 1 && method.name().equals("set" + capitalized);
      boolean component =
          type.isRecord() && method.parametersCount() == 0 && method.name().equals(name);
      if (reads || writes || component) {
        result.add(method);
      }
    }
    return result;
  }
}
