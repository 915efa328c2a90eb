package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.DotName;

/**
 * Looks at the annotations of Spring Data's relational stores, also where they stand at annotations
 * of the service.
 */
final class RelationalMarks {
  private static final String MAPPING = "org.springframework.data.relational.core.mapping.";
  private static final String COMMON = "org.springframework.data.annotation.";

  static final String TABLE = MAPPING + "Table";
  static final String COLUMN = MAPPING + "Column";
  static final String EMBEDDED = MAPPING + "Embedded";
  static final String COLLECTION = MAPPING + "MappedCollection";
  static final String INSERT_ONLY = MAPPING + "InsertOnlyProperty";
  static final String ID = COMMON + "Id";
  static final String VERSION = COMMON + "Version";
  static final String TRANSIENT = COMMON + "Transient";
  static final String READ_ONLY = COMMON + "ReadOnlyProperty";

  /** Values that the container puts in. */
  static final String VALUE = "org.springframework.beans.factory.annotation.Value";

  /** What annotations start with that say nothing of another store. */
  private static final List<String> OWN =
      List.of(
          MAPPING,
          COMMON,
          "org.springframework.data.r2dbc.",
          "org.springframework.data.jdbc.",
          "org.springframework.data.rest.");

  /** How deep annotations of annotations are looked at. */
  private static final int DEPTH = 3;

  private final ClassFiles classes;

  RelationalMarks(ClassFiles classes) {
    this.classes = classes;
  }

  /** The annotation of that name at the first target that has it. */
  Optional<AnnotationInstance> find(List<? extends AnnotationTarget> targets, String name) {
    return targets.stream()
        .flatMap(it -> find(it, DotName.createSimple(name), DEPTH).stream())
        .findFirst();
  }

  boolean has(List<? extends AnnotationTarget> targets, String name) {
    return find(targets, name).isPresent();
  }

  private Optional<AnnotationInstance> find(AnnotationTarget target, DotName name, int depth) {
    AnnotationInstance own = target.declaredAnnotation(name);
    if (own != null || depth == 0) {
      return Optional.ofNullable(own);
    }
    return target.declaredAnnotations().stream()
        .filter(it -> !it.name().toString().startsWith("java."))
        .flatMap(it -> classes.lookUp(it.name()).map(ClassFile::info).stream())
        .flatMap(it -> find(it, name, depth - 1).stream())
        .findFirst();
  }

  /**
   * True where annotations say that something else keeps the class: another of Spring Data's stores
   * or Jakarta Persistence.
   */
  static boolean isOfOtherStore(AnnotationTarget type) {
    return type.declaredAnnotations().stream()
        .map(it -> it.name().toString())
        .anyMatch(
            it ->
                it.matches("(jakarta|javax)\\.persistence\\..*")
                    || (it.startsWith("org.springframework.data.")
                        && OWN.stream().noneMatch(it::startsWith)));
  }
}
