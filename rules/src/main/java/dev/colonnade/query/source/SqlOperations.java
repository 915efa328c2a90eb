package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.query.mapper.MapperReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;

/**
 * Statements of Jdbi in annotations of the service's own: those that are annotated as an operation,
 * or whose container is ({@code SqlOperation}, in newer versions {@code UseExtensionHandler}).
 * Where such an annotation says for which database its statement is, by a name that databases are
 * commonly called by, those for others are left out.
 */
final class SqlOperations {
  private static final DotName OPERATION =
      DotName.createSimple("org.jdbi.v3.sqlobject.SqlOperation");
  private static final DotName HANDLER =
      DotName.createSimple("org.jdbi.v3.core.extension.annotation.UseExtensionHandler");

  /** What the handlers of SQL objects belong to (constant of {@code SqlObject}, Jdbi 3.49). */
  private static final String SQL_OBJECT = "SQL_OBJECT";

  private static final DotName REPEATABLE = DotName.createSimple("java.lang.annotation.Repeatable");

  /**
   * One statement.
   *
   * @param kind the simple name of its annotation
   * @param occurrence which of that name on the method, counted from 0
   * @param handler the simple name of the class that runs it
   */
  record Operation(AnnotationInstance annotation, String kind, int occurrence, String handler) {
    /** The database that the annotation names; empty where it names none. */
    String databaseId(MapperReader databases) {
      return annotation.values().stream()
          .filter(value -> !value.name().equals("value"))
          .filter(
              value ->
                  value.kind() == AnnotationValue.Kind.ENUM
                      || value.kind() == AnnotationValue.Kind.STRING)
          .map(
              value ->
                  value.kind() == AnnotationValue.Kind.ENUM ? value.asEnum() : value.asString())
          .filter(databases::isKnown)
          .findFirst()
          .orElse("");
    }
  }

  private final ClassFiles classes;
  private final MapperReader databases;

  SqlOperations(ClassFiles classes, MapperReader databases) {
    this.classes = classes;
    this.databases = databases;
  }

  /** All statements of an annotation, whichever database they are for. */
  List<Operation> all(AnnotationInstance annotation) {
    Optional<ClassInfo> type = classes.lookUp(annotation.name()).map(ClassFile::info);
    Optional<String> handler =
        type.flatMap(SqlOperations::handler)
            .or(() -> type.flatMap(this::container).flatMap(SqlOperations::handler));
    if (handler.isEmpty()) {
      return List.of();
    }
    AnnotationValue value = annotation.value();
    boolean several =
        value != null
            && value.kind() == AnnotationValue.Kind.ARRAY
            && value.componentKind() == AnnotationValue.Kind.NESTED;
    List<AnnotationInstance> statements =
        several ? List.of(value.asNestedArray()) : List.of(annotation);
    List<Operation> result = new ArrayList<>();
    for (int i = 0; i < statements.size(); i++) {
      AnnotationInstance statement = statements.get(i);
      String kind = SqlMethods.simpleName(statement.name().toString());
      result.add(new Operation(statement, kind, i, handler.get()));
    }
    return result;
  }

  /** Those for the database. */
  List<Operation> ours(List<Operation> all) {
    return databases.ofThisDatabase(all, it -> it.databaseId(databases));
  }

  private static Optional<String> handler(ClassInfo type) {
    return Optional.ofNullable(type.declaredAnnotation(OPERATION))
        .or(
            () ->
                Optional.ofNullable(type.declaredAnnotation(HANDLER))
                    .filter(it -> SqlMethods.text(it, "id").equals(SQL_OBJECT)))
        .map(it -> SqlMethods.simpleName(it.value().asClass().name().toString()));
  }

  private Optional<ClassInfo> container(ClassInfo type) {
    return Optional.ofNullable(type.declaredAnnotation(REPEATABLE))
        .flatMap(it -> classes.lookUp(it.value().asClass().name()))
        .map(ClassFile::info);
  }
}
