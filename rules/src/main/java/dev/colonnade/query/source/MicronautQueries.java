package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.classfile.Made;
import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;
import org.jboss.jandex.Type;

/**
 * The queries of Micronaut Data's repositories. Its annotation processor writes them when the
 * service is compiled, names of methods turned into queries, conditions of entities and joins
 * included, and keeps them as annotations in a class {@code $Berths$Intercepted$Definition$Exec}
 * beside the repository (Micronaut Data guide, "How Micronaut Data Works"). There they are read;
 * the class is neither loaded nor run.
 */
final class MicronautQueries {
  static final String NOT_UNDERSTOOD =
      "what Micronaut's annotation processor wrote for the repository is not understood";

  private static final DotName WRITTEN =
      DotName.createSimple("io.micronaut.context.AbstractExecutableMethodsDefinition");
  private static final String METHOD = WRITTEN + "$MethodReference";
  private static final String QUERY = "io.micronaut.data.annotation.Query";
  private static final String REPOSITORY_CLASS = "$Intercepted$Definition$Exec";
  private static final Set<DotName> REPOSITORIES =
      Set.of(DotName.createSimple("io.micronaut.data.annotation.Repository"));

  /** Repositories whose queries are SQL (Micronaut Data guide, "JDBC" and "R2DBC"). */
  private static final Set<DotName> SQL_REPOSITORIES =
      Set.of(
          DotName.createSimple("io.micronaut.data.jdbc.annotation.JdbcRepository"),
          DotName.createSimple("io.micronaut.data.r2dbc.annotation.R2dbcRepository"));

  /**
   * A query that the processor wrote.
   *
   * @param declared binary name of the type that declares the method
   * @param method the method's name
   * @param parameters the types of its parameters; empty where one is not known
   * @param text the query
   * @param count the query that counts the rows of which a page is given out
   */
  record Written(
      String declared,
      String method,
      List<Optional<String>> parameters,
      String text,
      Optional<String> count) {
    Written {
      parameters = List.copyOf(parameters);
    }

    /** True where a page is asked for. */
    boolean isPaged() {
      return parameters.stream().flatMap(Optional::stream).anyMatch(PAGES::contains);
    }
  }

  private static final Set<String> PAGES =
      Set.of(
          "io.micronaut.data.model.Pageable",
          "io.micronaut.data.model.CursoredPageable",
          "io.micronaut.data.model.Limit");

  private final ClassFiles classes;

  MicronautQueries(ClassFiles classes) {
    this.classes = classes;
  }

  /** The repository that the class was written for; empty for a class of another purpose. */
  Optional<ClassFile> repository(ClassInfo type) {
    String name = type.name().toString();
    if (!WRITTEN.equals(type.superName()) || !name.endsWith(REPOSITORY_CLASS)) {
      return Optional.empty();
    }
    int simple = name.lastIndexOf('.') + 1;
    String repository =
        name.substring(0, simple)
            + name.substring(simple + 1, name.length() - REPOSITORY_CLASS.length());
    return classes.file(DotName.createSimple(repository));
  }

  /** True for a repository of Micronaut Data. */
  boolean isRepository(ClassInfo type) {
    return isMarked(type, it -> REPOSITORIES.contains(it) || SQL_REPOSITORIES.contains(it));
  }

  /** True for a method whose query the service has written itself. */
  static boolean isText(MethodInfo method) {
    return method.hasDeclaredAnnotation(QUERY);
  }

  /** True for a repository whose queries are SQL. */
  boolean isSql(ClassInfo type) {
    return isMarked(type, SQL_REPOSITORIES::contains);
  }

  private boolean isMarked(ClassInfo type, Predicate<DotName> annotation) {
    return isMarked(type, annotation, new HashSet<>());
  }

  private boolean isMarked(ClassInfo type, Predicate<DotName> annotation, Set<DotName> seen) {
    if (type.declaredAnnotations().stream().anyMatch(it -> annotation.test(it.name()))) {
      return true;
    }
    List<DotName> above = new ArrayList<>(type.interfaceNames());
    if (type.superName() != null) {
      above.add(type.superName());
    }
    return above.stream()
        .filter(seen::add)
        .anyMatch(it -> classes.find(it).filter(up -> isMarked(up, annotation, seen)).isPresent());
  }

  /**
   * The queries in a class that the processor wrote; empty where it is not understood.
   *
   * @throws IOException where the class file cannot be read
   */
  Optional<List<Written>> read(ClassFile written) throws IOException {
    return classes
        .made(written, METHOD)
        .map(made -> made.stream().flatMap(it -> query(it).stream()).toList());
  }

  /** A method: the type that declares it, its annotations, name, result and parameters. */
  private static Optional<Written> query(Made.Instance method) {
    List<Made> given = method.arguments();
    if (given.size() < 5
        || !(given.get(0) instanceof Made.Literal declared)
        || !(given.get(2) instanceof Made.Text name)) {
      return Optional.empty();
    }
    Map<String, Made> attributes = attributes(given.get(1));
    return text(attributes, "value")
        .map(
            text ->
                new Written(
                    declared.name(),
                    name.value(),
                    parameters(given.get(4)),
                    text,
                    text(attributes, "countQuery")));
  }

  private static Optional<String> text(Map<String, Made> attributes, String name) {
    return attributes.get(name) instanceof Made.Text text && !text.value().isBlank()
        ? Optional.of(text.value())
        : Optional.empty();
  }

  private static List<Optional<String>> parameters(Made arguments) {
    List<Optional<String>> result = new ArrayList<>();
    if (arguments instanceof Made.Elements parameters) {
      for (Made parameter : parameters.elements()) {
        boolean known =
            parameter instanceof Made.Given argument
                && !argument.arguments().isEmpty()
                && argument.arguments().get(0) instanceof Made.Literal;
        result.add(
            known
                ? Optional.of(((Made.Literal) ((Made.Given) parameter).arguments().get(0)).name())
                : Optional.empty());
      }
    }
    return result;
  }

  /** The attributes of the annotation that holds the query; none where there is no such one. */
  private static Map<String, Made> attributes(Made annotations) {
    List<Made> parts =
        annotations instanceof Made.Instance made
            ? made.arguments()
            : annotations instanceof Made.Elements several ? several.elements() : List.of();
    if (annotations instanceof Made.Given map) {
      Made named = entries(map).get(QUERY);
      return named instanceof Made.Given values ? entries(values) : Map.of();
    }
    for (Made part : parts) {
      Map<String, Made> found = attributes(part);
      if (!found.isEmpty()) {
        return found;
      }
    }
    return Map.of();
  }

  /** What a map holds that is given names and values in turn, in an array or not. */
  private static Map<String, Made> entries(Made.Given map) {
    List<Made> given = map.arguments();
    if (given.size() == 1 && given.get(0) instanceof Made.Elements several) {
      given = several.elements();
    }
    Map<String, Made> result = new LinkedHashMap<>();
    for (int i = 0; i + 1 < given.size(); i += 2) {
      if (given.get(i) instanceof Made.Text name) {
        result.put(name.value(), given.get(i + 1));
      }
    }
    return result;
  }

  /** The method of the repository that a query belongs to; empty for one of a library. */
  static Optional<MethodInfo> method(ClassInfo declaring, Written query) {
    return declaring.methods().stream()
        .filter(method -> method.name().equals(query.method()))
        .filter(method -> fits(method.parameterTypes(), query.parameters()))
        .findFirst();
  }

  private static boolean fits(List<Type> types, List<Optional<String>> known) {
    if (types.size() != known.size()) {
      return false;
    }
    for (int i = 0; i < known.size(); i++) {
      String type = types.get(i).name().toString();
      if (known.get(i).filter(it -> !erased(it).equals(erased(type))).isPresent()) {
        return false;
      }
    }
    return true;
  }

  /** Names of arrays are written in two ways. */
  private static String erased(String type) {
    return type.endsWith("[]") || type.startsWith("[") ? "[]" : type;
  }
}
