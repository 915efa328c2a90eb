package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.source.SourceLocator.Place;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;

/**
 * Finds the queries of types whose methods are annotated with SQL: mappers of MyBatis and SQL
 * objects of Jdbi. A query's id is {@code package.Type.method}; variants of a script are numbered
 * as those of mapper files are.
 *
 * <p>A method whose SQL another class of the service makes is listed as not analysed: that class is
 * never run.
 */
public final class SqlMethods {
  private static final String MYBATIS = "org.apache.ibatis.annotations.";
  private static final Set<String> STATEMENTS = Set.of("Select", "Insert", "Update", "Delete");
  private static final String KEY = "SelectKey";
  private static final String PROVIDER = "Provider";

  /** The suffix of the annotation that holds repeated ones. */
  private static final String LIST = "$List";

  private static final List<String> JDBI =
      List.of("org.jdbi.v3.sqlobject.", "org.skife.jdbi.v2.sqlobject.");
  private static final Set<String> OBJECTS =
      Set.of(
          "statement.SqlQuery",
          "statement.SqlUpdate",
          "statement.SqlBatch",
          "statement.SqlCall",
          "statement.SqlScript",
          "SqlQuery",
          "SqlUpdate",
          "SqlBatch",
          "SqlCall");
  private static final String SCRIPT = "SqlScript";

  private final SourceLocator locator;
  private final MapperReader mappers;
  private final JdbiTexts texts;
  private final Set<String> readElsewhere;
  private final QueryIds ids = new QueryIds();
  private FoundQueries found = FoundQueries.NONE;

  private SqlMethods(
      SourceLocator locator, MapperReader mappers, JdbiTexts texts, Set<String> readElsewhere) {
    this.locator = locator;
    this.mappers = mappers;
    this.texts = texts;
    this.readElsewhere = readElsewhere;
  }

  /**
   * The queries of every class.
   *
   * @param classesDirectory where the class files, and SQL files beside them, are
   * @param baseDirectory what file names are relative to
   * @param sourceDirectories where the sources are looked up, in this order
   * @param configured annotations that are read in another way
   * @param mappers reads the texts, which may be scripts
   */
  public static FoundQueries scan(
      Path classesDirectory,
      Path baseDirectory,
      List<Path> sourceDirectories,
      List<QueryAnnotation> configured,
      ClassFiles classes,
      MapperReader mappers) {
    SqlMethods methods =
        new SqlMethods(
            new SourceLocator(baseDirectory, sourceDirectories),
            mappers,
            new JdbiTexts(classesDirectory),
            configured.stream().map(QueryAnnotation::className).collect(Collectors.toSet()));
    for (ClassFile file : classes.all()) {
      for (MethodInfo method : sorted(file.info())) {
        for (AnnotationInstance annotation : method.declaredAnnotations()) {
          methods.read(file, method, annotation);
        }
      }
    }
    return methods.found;
  }

  private static List<MethodInfo> sorted(ClassInfo type) {
    return type.methods().stream()
        .filter(method -> !method.isSynthetic())
        .sorted(
            Comparator.comparing(MethodInfo::name)
                .thenComparing(method -> method.parameterTypes().toString()))
        .toList();
  }

  private void read(ClassFile file, MethodInfo method, AnnotationInstance annotation) {
    String name = annotation.name().toString();
    if (readElsewhere.contains(name)) {
      return;
    }
    if (name.startsWith(MYBATIS)) {
      mybatis(file, method, annotation, name.substring(MYBATIS.length()));
      return;
    }
    for (String library : JDBI) {
      if (name.startsWith(library)) {
        jdbi(file, method, annotation, name.substring(library.length()));
      }
    }
  }

  private void mybatis(
      ClassFile file, MethodInfo method, AnnotationInstance annotation, String kind) {
    String single = kind.replace(LIST, "");
    boolean key = single.equals(KEY);
    if (!key && !STATEMENTS.contains(single.replace(PROVIDER, ""))) {
      return;
    }
    if (!single.equals(kind)) {
      nested(annotation).stream()
          .filter(each -> mappers.isOurs(text(each, "databaseId")))
          .forEach(each -> mybatis(file, method, each, single));
      return;
    }
    String attribute = key ? "statement" : "value";
    Place place = place(file, method, kind, attribute);
    String id = ids.unique(idOf(file.info(), method) + (key ? "!selectKey" : ""));
    String text = text(annotation, attribute);
    if (kind.endsWith(PROVIDER)) {
      refuse(id, place, "a method of the service makes its SQL");
    } else if (text.isBlank()) {
      refuse(id, place, AnnotationTexts.NO_TEXT);
    } else if (mappers.isOurs(text(annotation, "databaseId"))) {
      found = found.and(MapperFiles.found(mappers.script(id, place.location(), text)));
    }
  }

  private void jdbi(ClassFile file, MethodInfo method, AnnotationInstance annotation, String kind) {
    if (kind.endsWith(SCRIPT + "s")) {
      nested(annotation).forEach(each -> jdbi(file, method, each, "statement." + SCRIPT));
      return;
    }
    if (!OBJECTS.contains(kind)) {
      return;
    }
    String simpleName = kind.substring(kind.lastIndexOf('.') + 1);
    Place place = place(file, method, simpleName, "value");
    String id = ids.unique(idOf(file.info(), method));
    JdbiTexts.Text text = texts.of(file.info(), method, text(annotation, "value"));
    if (text.problem().isPresent()) {
      refuse(id, place, text.problem().get());
      return;
    }
    List<String> statements =
        simpleName.equals(SCRIPT)
            ? SqlSplitter.split(text.text()).stream().map(SqlSplitter.Statement::text).toList()
            : List.of(text.text());
    for (int i = 0; i < statements.size(); i++) {
      String statementId = i == 0 ? id : id + "#" + (i + 1);
      found = found.and(jdbi(statementId, place, statements.get(i)));
    }
  }

  /** A text in which nothing is left open goes as it is; the others as a script does. */
  private FoundQueries jdbi(String id, Place place, String text) {
    if (JdbiTexts.isPlain(text)) {
      return new FoundQueries(
          List.of(new QueryText(id, place.location(), QuerySource.ANNOTATION, text, text)),
          List.of(),
          List.of());
    }
    return MapperFiles.found(mappers.script(id, place.location(), text));
  }

  private void refuse(String id, Place place, String reason) {
    found =
        found.and(
            new FoundQueries(
                List.of(), List.of(new UnanalysedQuery(id, place.location(), reason)), List.of()));
  }

  private Place place(ClassFile file, MethodInfo method, String annotation, String attribute) {
    List<String> parameters =
        method.parameterTypes().stream().map(type -> simpleName(type.name().toString())).toList();
    return locator
        .ofMethod(file.info().name().toString(), method.name(), parameters, annotation, attribute)
        .orElseGet(() -> Place.of(file.file()));
  }

  private static String simpleName(String name) {
    return name.substring(Math.max(name.lastIndexOf('.'), name.lastIndexOf('$')) + 1);
  }

  private static String idOf(ClassInfo type, MethodInfo method) {
    return type.name().toString().replace('$', '.') + "." + method.name();
  }

  private static List<AnnotationInstance> nested(AnnotationInstance annotation) {
    AnnotationValue value = annotation.value();
    return value == null ? List.of() : List.of(value.asNestedArray());
  }

  /** A string, or strings joined by blanks as MyBatis does; empty where there is none. */
  private static String text(AnnotationInstance annotation, String attribute) {
    AnnotationValue value = annotation.value(attribute);
    return Optional.ofNullable(value)
        .map(
            it ->
                it.kind() == AnnotationValue.Kind.ARRAY
                    ? String.join(" ", it.asStringArray()).strip()
                    : it.asString())
        .orElse("");
  }

  /** Whether the type or the method carries an annotation with that simple name of a library. */
  static boolean carries(ClassInfo type, MethodInfo method, String simpleName) {
    return carries(type.declaredAnnotations(), simpleName)
        || carries(method.declaredAnnotations(), simpleName);
  }

  private static boolean carries(List<AnnotationInstance> annotations, String simpleName) {
    return annotations.stream()
        .map(annotation -> annotation.name())
        .anyMatch(name -> isJdbi(name) && simpleName.equals(simpleName(name.toString())));
  }

  private static boolean isJdbi(DotName name) {
    return name.toString().startsWith("org.jdbi.v3.")
        || name.toString().startsWith("org.skife.jdbi.v2.");
  }
}
