package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.MapperReading;
import dev.colonnade.query.mapper.SqlTemplates;
import dev.colonnade.query.source.SourceLocator.Place;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.MethodInfo;

/**
 * Finds the queries of types whose methods are annotated with SQL: mappers of MyBatis and SQL
 * objects of Jdbi. A query's id is {@code package.Type.method}, its place the annotation; variants
 * of a script share it.
 */
public final class SqlMethods {
  /**
   * What the search is given.
   *
   * @param baseDirectory what file names are relative to
   * @param resourceDirectories where SQL that stands outside of the classes is looked up, in order
   * @param sourceDirectories where the sources are looked up, in order
   * @param configured annotations that are read in another way
   * @param mappers reads the texts of MyBatis
   * @param templates reads the texts of Jdbi
   */
  public record Setting(
      Path baseDirectory,
      List<Path> resourceDirectories,
      List<Path> sourceDirectories,
      List<QueryAnnotation> configured,
      MapperReader mappers,
      SqlTemplates templates) {}

  private final SourceLocator locator;
  private final MybatisMethods mybatis;
  private final SqlObjects sqlObjects;
  private final Set<String> readElsewhere;
  private final QueryIds ids = new QueryIds();
  private final List<QueryText> queries = new ArrayList<>();
  private final List<UnanalysedQuery> unanalysed = new ArrayList<>();
  private final List<NotUnderstood> notes = new ArrayList<>();
  private int withoutText;

  private SqlMethods(Setting setting, ClassFiles classes) {
    this.locator = new SourceLocator(setting.baseDirectory(), setting.sourceDirectories());
    this.mybatis = new MybatisMethods(this, setting.mappers(), classes);
    this.sqlObjects = new SqlObjects(this, setting, classes);
    this.readElsewhere =
        setting.configured().stream().map(QueryAnnotation::className).collect(Collectors.toSet());
  }

  /** The queries of every class. What is not understood is listed with the reason. */
  public static FoundQueries scan(Setting setting, ClassFiles classes) {
    SqlMethods methods = new SqlMethods(setting, classes);
    for (ClassFile file : classes.all()) {
      for (MethodInfo method : sorted(file.info())) {
        methods.read(file, method);
      }
    }
    return new FoundQueries(
        methods.queries, methods.unanalysed, methods.notes, methods.withoutText);
  }

  private static List<MethodInfo> sorted(ClassInfo type) {
    return type.methods().stream()
        .filter(method -> !method.isSynthetic())
        .sorted(
            Comparator.comparing(MethodInfo::name)
                .thenComparing(method -> method.parameterTypes().toString()))
        .toList();
  }

  private void read(ClassFile file, MethodInfo method) {
    List<AnnotationInstance> annotations =
        method.declaredAnnotations().stream()
            .filter(annotation -> !readElsewhere.contains(annotation.name().toString()))
            .sorted(Comparator.comparing(annotation -> annotation.name().toString()))
            .toList();
    mybatis.read(file, method, annotations);
    for (AnnotationInstance annotation : annotations) {
      sqlObjects.read(file, method, annotation);
    }
  }

  /** An id of its own for a query of the method. */
  String id(ClassFile file, MethodInfo method, String suffix) {
    String type = file.info().name().toString().replace('$', '.');
    return ids.unique(type + "." + method.name() + suffix);
  }

  /** Where the annotation stands; the class file where there is no source. */
  SourceLocation place(ClassFile file, MethodInfo method, String annotation, int occurrence) {
    List<String> parameters =
        method.parameterTypes().stream().map(type -> simpleName(type.name().toString())).toList();
    return locator
        .ofMethod(file.info().name().toString(), method.name(), parameters, annotation, occurrence)
        .orElseGet(() -> Place.of(file.file()))
        .location();
  }

  void add(MapperReading reading) {
    queries.addAll(reading.queries());
    unanalysed.addAll(reading.unanalysed());
    notes.addAll(reading.notes());
    withoutText += reading.withoutText();
  }

  void refuse(String id, SourceLocation location, String reason) {
    unanalysed.add(new UnanalysedQuery(id, location, reason));
  }

  void note(List<NotUnderstood> problems) {
    notes.addAll(problems);
  }

  static String simpleName(String name) {
    return name.substring(Math.max(name.lastIndexOf('.'), name.lastIndexOf('$')) + 1);
  }

  /** A string, or strings joined by blanks as MyBatis does. */
  static String text(AnnotationInstance annotation, String attribute) {
    AnnotationValue value = annotation.value(attribute);
    if (value == null) {
      return "";
    }
    return value.kind() == AnnotationValue.Kind.ARRAY
        ? String.join(" ", value.asStringArray()).strip()
        : value.asString();
  }

  /** Attributes that stand for something known. */
  static Map<String, String> listAttribute(AnnotationInstance bound, String members) {
    AnnotationValue names = bound.value(members);
    String attribute = text(bound, "value");
    if (names == null || attribute.isEmpty() || names.asStringArray().length == 0) {
      return Map.of();
    }
    return Map.of(attribute, "(:" + String.join(", :", names.asStringArray()) + ")");
  }
}
