package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.Type;

/**
 * Finds entities that a service has from its class path: those in modules of the same build and in
 * jars made to hold entities, those that repositories are for, and those that others refer to.
 */
final class LibraryEntities {
  private static final Set<DotName> ENTITY =
      Set.of(
          DotName.createSimple("jakarta.persistence.Entity"),
          DotName.createSimple("javax.persistence.Entity"));

  private final ClassFiles classes;
  private final Set<DotName> seen = new HashSet<>();
  private final Deque<ClassInfo> open = new ArrayDeque<>();
  private final List<ClassFile> found = new ArrayList<>();

  LibraryEntities(ClassFiles classes) {
    this.classes = classes;
  }

  /**
   * The entities from the class path.
   *
   * @param own the service's own entities
   */
  List<ClassFile> find(List<ClassFile> own) {
    own.forEach(file -> open.add(file.info()));
    classes.inLibraries(ENTITY).forEach(this::add);
    for (ClassFile file : classes.all()) {
      file.info().interfaceTypes().forEach(this::look);
      if (file.info().superClassType() != null) {
        argumentsOf(file.info().superClassType());
      }
    }
    while (!open.isEmpty()) {
      ClassInfo type = open.poll();
      type.fields().forEach(field -> look(field.type()));
      type.methods().stream()
          .filter(method -> method.parametersCount() == 0)
          .forEach(method -> look(method.returnType()));
      for (AnnotationInstance annotation : type.annotations()) {
        AnnotationValue target = annotation.value("targetEntity");
        if (target != null && target.kind() == AnnotationValue.Kind.CLASS) {
          look(target.asClass());
        }
      }
      if (type.superName() != null) {
        look(type.superClassType());
      }
    }
    return found;
  }

  private void look(Type type) {
    argumentsOf(type);
    if (type.kind() == Type.Kind.CLASS || type.kind() == Type.Kind.PARAMETERIZED_TYPE) {
      look(type.name());
    } else if (type.kind() == Type.Kind.ARRAY) {
      look(type.asArrayType().constituent());
    }
  }

  private void argumentsOf(Type type) {
    if (type.kind() == Type.Kind.PARAMETERIZED_TYPE) {
      type.asParameterizedType().arguments().forEach(this::look);
    }
  }

  private void look(DotName name) {
    if (classes.isOwn(name) || name.toString().startsWith("java.") || !seen.add(name)) {
      return;
    }
    Optional<ClassFile> file = classes.lookUp(name);
    if (file.isPresent()) {
      add(file.get());
      if (Marks.hasAny(file.get().info(), "MappedSuperclass", "Embeddable")) {
        open.add(file.get().info());
      }
    }
  }

  private void add(ClassFile file) {
    boolean isNew = found.stream().noneMatch(it -> it.info().name().equals(file.info().name()));
    if (isNew && Marks.has(file.info(), "Entity")) {
      found.add(file);
      open.add(file.info());
    }
  }
}
