package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.mapper.MapperReading;
import dev.colonnade.query.mapper.SqlTemplates;
import dev.colonnade.query.mapper.TemplateGroup;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;
import org.jboss.jandex.Type;

/**
 * Statements of Jdbi's SQL objects (Jdbi 3 developer guide, "SQL Objects"; those of Jdbi 2 have the
 * same names in another package). The SQL stands in the annotation, or outside under the name that
 * the annotation gives, else the method's. What stands outside is looked up for the type that is
 * used: a method that several types inherit is a statement of each that has texts of its own.
 */
final class SqlObjects {
  private static final List<String> PACKAGES = List.of("org.jdbi.v3.", "org.skife.jdbi.v2.");
  private static final Set<String> OBJECTS = Set.of("SqlQuery", "SqlUpdate", "SqlBatch", "SqlCall");
  private static final String SCRIPT = "SqlScript";
  private static final String SCRIPTS = "SqlScripts";
  private static final Set<String> GROUP_LOCATORS =
      Set.of("UseStringTemplateSqlLocator", "UseStringTemplate3StatementLocator");
  private static final String FILE_LOCATOR = "UseClasspathSqlLocator";
  private static final String TEMPLATE_ENGINE = "UseStringTemplateEngine";
  private static final Set<String> OTHER_ENGINES =
      Set.of("UseFreemarkerEngine", "UseFreemarkerSqlLocator", "UseTemplateEngine", "UseSqlParser");
  private static final Set<String> OWN_ENGINES =
      Set.of("DefinedAttributeTemplateEngine", "NoTemplateEngine", "ColonPrefixSqlParser");

  private final SqlMethods methods;
  private final SqlTemplates templates;
  private final OutsideSql outside;
  private final ClassFiles classes;
  private final SqlOperations operations;
  private final Set<String> reported = new HashSet<>();
  private final Heirs below;
  private final DefinedTexts defined;

  SqlObjects(SqlMethods methods, SqlMethods.Setting setting, ClassFiles classes) {
    this.methods = methods;
    this.templates = setting.templates();
    this.outside = new OutsideSql(setting.baseDirectory(), setting.resourceDirectories(), classes);
    this.classes = classes;
    this.operations = new SqlOperations(classes, setting.mappers());
    this.below = new Heirs(classes);
    this.defined = new DefinedTexts(classes, below);
  }

  void read(ClassFile file, MethodInfo method, AnnotationInstance annotation) {
    String kind = kind(annotation);
    if (kind.equals(SCRIPTS)) {
      int occurrence = 0;
      for (AnnotationInstance nested : annotation.value().asNestedArray()) {
        statement(file, method, nested, SCRIPT, occurrence++);
      }
    } else if (OBJECTS.contains(kind) || kind.equals(SCRIPT)) {
      statement(file, method, annotation, kind, 0);
    } else if (kind.isEmpty()) {
      own(file, method, operations.all(annotation));
    }
  }

  /** Statements in annotations of the service's own. */
  private void own(ClassFile file, MethodInfo method, List<SqlOperations.Operation> all) {
    List<SqlOperations.Operation> ours = operations.ours(all);
    if (!all.isEmpty() && ours.isEmpty()) {
      SourceLocation place = methods.place(file, method, all.get(0).kind(), 0);
      methods.refuse(methods.id(file, method, ""), place, "its statements are other databases'");
    }
    for (SqlOperations.Operation operation : ours) {
      SourceLocation place = methods.place(file, method, operation.kind(), operation.occurrence());
      String kind = operation.handler().contains(SCRIPT) ? SCRIPT : operation.kind();
      statement(file, method, operation.annotation(), kind, place);
    }
  }

  /** The simple name of an annotation of Jdbi; nothing for others. */
  private static String kind(AnnotationInstance annotation) {
    String name = annotation.name().toString();
    return PACKAGES.stream().anyMatch(name::startsWith) ? SqlMethods.simpleName(name) : "";
  }

  private void statement(
      ClassFile file,
      MethodInfo method,
      AnnotationInstance annotation,
      String kind,
      int occurrence) {
    statement(file, method, annotation, kind, methods.place(file, method, kind, occurrence));
  }

  private void statement(
      ClassFile file,
      MethodInfo method,
      AnnotationInstance annotation,
      String kind,
      SourceLocation place) {
    List<ClassFile> heirs = name(annotation, method).isEmpty() ? List.of() : heirs(file, method);
    for (ClassFile type : heirs) {
      statementOf(type, place, method, annotation, kind, List.of(Map.of()));
    }
    if (heirs.isEmpty()) {
      DefinedTexts.Uses uses = defined.of(file, method);
      for (DefinedTexts.Use use : uses.known()) {
        statementOf(use.type(), place, method, annotation, kind, use.texts());
      }
      if (uses.open()) {
        statementOf(file, place, method, annotation, kind, List.of(Map.of()));
      }
    }
  }

  private void statementOf(
      ClassFile file,
      SourceLocation place,
      MethodInfo method,
      AnnotationInstance annotation,
      String kind,
      List<Map<String, String>> given) {
    String id = methods.id(file, method, "");
    Map<String, AnnotationInstance> settings = settings(file.info(), method);
    Optional<String> engine = otherEngine(settings);
    if (engine.isPresent()) {
      methods.refuse(
          id, place, "its SQL is made by way of @" + engine.get() + ", which is not read");
      return;
    }
    String written = SqlMethods.text(annotation, "value").strip();
    Optional<String> outsideName = name(annotation, method);
    String name = outsideName.orElse(written);
    boolean inGroup = GROUP_LOCATORS.stream().anyMatch(settings::containsKey);
    boolean inFile = settings.containsKey(FILE_LOCATOR);
    boolean isName = !written.isEmpty() && outsideName.isPresent();
    Optional<OutsideSql.Group> group =
        inGroup || isName || written.isEmpty() ? outside.group(file.info()) : Optional.empty();
    group.ifPresent(this::report);
    // A service may say for all its objects, in code that is not read, where their SQL stands.
    inGroup |= group.isPresent() && written.isEmpty() && !inFile;
    List<Map<String, String>> ways = given.stream().map(it -> attributes(method, it)).toList();
    if (inGroup || (isName && !inFile && group.isPresent())) {
      if (group.isPresent() && (isName || written.isEmpty())) {
        TemplateGroup named = group.get().templates();
        ways.forEach(it -> methods.add(templates.named(id, place, name, named, it)));
      } else if (!isName && !written.isEmpty()) {
        TemplateGroup includes =
            outside.group(file.info()).map(OutsideSql.Group::templates).orElse(TemplateGroup.NONE);
        ways.forEach(it -> methods.add(templates.template(id, place, written, includes, it)));
      } else {
        missing(id, place, OutsideSql.groupOf(file.info()));
      }
      return;
    }
    Optional<String> sql =
        inFile || isName ? outside.statement(file.info(), name) : Optional.of(written);
    if (sql.isEmpty()) {
      missing(id, place, OutsideSql.fileOf(file.info(), name));
    } else if (sql.get().isBlank()) {
      methods.refuse(id, place, AnnotationTexts.NO_TEXT);
    } else {
      boolean template = settings.containsKey(TEMPLATE_ENGINE);
      List<String> statements = kind.equals(SCRIPT) ? split(sql.get()) : List.of(sql.get());
      ways.forEach(it -> add(id, place, statements, template, it));
    }
  }

  /** The name under which the SQL may stand outside: a single word, or the method's name. */
  private static Optional<String> name(AnnotationInstance annotation, MethodInfo method) {
    String written = SqlMethods.text(annotation, "value").strip();
    return written.isEmpty()
        ? Optional.of(method.name())
        : Optional.of(written)
            .filter(it -> it.chars().noneMatch(c -> Character.isWhitespace(c) || c == '<'));
  }

  /** The types that inherit the method and have texts of their own. */
  private List<ClassFile> heirs(ClassFile file, MethodInfo method) {
    return below.of(file.info().name()).stream()
        .filter(type -> type.info().method(method.name(), parameters(method)) == null)
        .filter(type -> outside.hasTexts(type.info()))
        .toList();
  }

  private static Type[] parameters(MethodInfo method) {
    return method.parameterTypes().toArray(Type[]::new);
  }

  private static List<String> split(String script) {
    return SqlSplitter.split(script).stream().map(SqlSplitter.Statement::text).toList();
  }

  private void add(
      String id,
      SourceLocation place,
      List<String> statements,
      boolean template,
      Map<String, String> attributes) {
    for (int i = 0; i < statements.size(); i++) {
      String number = i == 0 ? id : id + "~" + (i + 1);
      String text = statements.get(i);
      // A service may choose the engine for all its objects, in code that is not read.
      boolean conditional = text.contains("<if(") && text.contains("<endif>");
      MapperReading reading =
          template || conditional
              ? templates.template(number, place, text, TemplateGroup.NONE, attributes)
              : templates.plain(number, place, text, attributes);
      methods.add(reading);
    }
  }

  private void missing(String id, SourceLocation place, String file) {
    methods.refuse(id, place, "there is no file " + file + " with its SQL");
  }

  private void report(OutsideSql.Group group) {
    if (reported.add(group.file())) {
      methods.note(group.templates().problems(group.file()));
    }
  }

  /** What configures the method: annotations of its own, its type's, and of the types above. */
  private Map<String, AnnotationInstance> settings(ClassInfo type, MethodInfo method) {
    Map<String, AnnotationInstance> found = new HashMap<>();
    method.declaredAnnotations().forEach(it -> found.putIfAbsent(kind(it), it));
    collect(type, found, new HashSet<>());
    return found;
  }

  private void collect(
      ClassInfo type, Map<String, AnnotationInstance> found, Set<DotName> visited) {
    if (!visited.add(type.name())) {
      return;
    }
    type.declaredAnnotations().forEach(it -> found.putIfAbsent(kind(it), it));
    for (DotName above : type.interfaceNames()) {
      classes.find(above).ifPresent(it -> collect(it, found, visited));
    }
  }

  private static Optional<String> otherEngine(Map<String, AnnotationInstance> settings) {
    for (String engine : OTHER_ENGINES.stream().sorted().toList()) {
      AnnotationInstance annotation = settings.get(engine);
      if (annotation == null) {
        continue;
      }
      AnnotationValue value = annotation.value();
      boolean harmless =
          value != null
              && value.kind() == AnnotationValue.Kind.CLASS
              && OWN_ENGINES.contains(SqlMethods.simpleName(value.asClass().name().toString()));
      if (!harmless) {
        return Optional.of(engine);
      }
    }
    return Optional.empty();
  }

  /**
   * What stands for the attributes that a call can define: those that its parameters are called or
   * named in annotations, each open unless its text is given. Lists of beans stand for rows whose
   * members are named.
   */
  private static Map<String, String> attributes(MethodInfo method, Map<String, String> given) {
    Map<String, String> attributes = new HashMap<>(given);
    for (int i = 0; i < method.parametersCount(); i++) {
      if (method.parameterName(i) != null) {
        open(attributes, method.parameterName(i));
      }
    }
    for (AnnotationInstance annotation : method.annotations()) {
      if (annotation.target() == null
          || annotation.target().kind() != AnnotationTarget.Kind.METHOD_PARAMETER) {
        continue;
      }
      AnnotationValue value = annotation.value();
      if (value != null && value.kind() == AnnotationValue.Kind.STRING) {
        open(attributes, value.asString());
      }
      switch (kind(annotation)) {
        case "BindBeanList" ->
            attributes.putAll(SqlMethods.listAttribute(annotation, "propertyNames"));
        case "BindMethodsList" ->
            attributes.putAll(SqlMethods.listAttribute(annotation, "methodNames"));
        default -> {}
      }
    }
    return attributes;
  }

  private static void open(Map<String, String> attributes, String name) {
    attributes.putIfAbsent(name, "${" + name + "}");
  }
}
