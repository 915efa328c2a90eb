package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Entity;
import dev.colonnade.query.source.SourceLocator.Place;
import java.nio.file.Path;
import java.util.List;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.MethodInfo;

/** Where classes, methods and annotations stand: in the sources, else in their class files. */
final class Places {
  private final SourceLocator locator;

  Places(Path baseDirectory, List<Path> sourceDirectories) {
    this.locator = new SourceLocator(baseDirectory, sourceDirectories);
  }

  SourceLocation of(Entity entity) {
    return locator.ofDeclaration(entity.className()).map(Place::location).orElse(entity.location());
  }

  SourceLocation of(ClassFile file) {
    return locator
        .ofDeclaration(typeName(file.info()))
        .orElseGet(() -> Place.of(file.file()))
        .location();
  }

  /** The place of a text in an annotation of a class. */
  Place of(ClassFile file, AnnotationInstance annotation, AnnotatedText text) {
    return locator
        .ofType(typeName(file.info()), simpleName(annotation), text.attribute(), text.name())
        .orElseGet(() -> Place.of(file.file()));
  }

  SourceLocation of(ClassFile file, MethodInfo method) {
    return of(file, method, "", "").location();
  }

  /** The place of a text in an annotation of a method. */
  Place of(ClassFile file, MethodInfo method, AnnotationInstance annotation, AnnotatedText text) {
    return of(file, method, simpleName(annotation), text.attribute());
  }

  private Place of(ClassFile file, MethodInfo method, String annotation, String attribute) {
    List<String> parameters =
        method.parameterTypes().stream().map(type -> simpleName(type.toString())).toList();
    return locator
        .ofMethod(typeName(file.info()), method.name(), parameters, annotation, attribute)
        .orElseGet(() -> Place.of(file.file()));
  }

  private static String typeName(ClassInfo type) {
    return type.name().toString();
  }

  /** What ids of queries start with. */
  static String idOf(ClassInfo type) {
    return typeName(type).replace('$', '.');
  }

  private static String simpleName(AnnotationInstance annotation) {
    return simpleName(annotation.name().toString());
  }

  /** The last part of a type's name, without type arguments and annotations. */
  private static String simpleName(String name) {
    String erased = name.replaceAll("<.*>", "").replaceAll("@\\S+\\s+", "");
    return erased.substring(Math.max(erased.lastIndexOf('.'), erased.lastIndexOf('$')) + 1);
  }
}
