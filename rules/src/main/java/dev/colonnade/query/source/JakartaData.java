package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.Entity;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;
import org.jboss.jandex.MethodParameterInfo;
import org.jboss.jandex.Type;

/**
 * The queries of repositories in the way of Jakarta Data 1.0: methods whose parameters are the
 * conditions, and texts in its query language, which leave out what the repository says (its
 * specification, "Parameter-based automatic query methods" and "Jakarta Data Query Language").
 */
final class JakartaData {
  /**
   * What a method stands for.
   *
   * @param jpql the query or the statement
   * @param count the query that counts the rows of which a page is given out
   */
  record Automatic(String jpql, Optional<String> count) {}

  private static final String PACKAGE = "jakarta.data.repository.";
  private static final DotName REPOSITORY = DotName.createSimple(PACKAGE + "Repository");
  private static final DotName QUERY = DotName.createSimple(PACKAGE + "Query");
  private static final DotName FIND = DotName.createSimple(PACKAGE + "Find");
  private static final DotName DELETE = DotName.createSimple(PACKAGE + "Delete");
  private static final DotName BY = DotName.createSimple(PACKAGE + "By");
  private static final DotName ORDER_BY = DotName.createSimple(PACKAGE + "OrderBy");
  private static final DotName ORDERS = DotName.createSimple(PACKAGE + "OrderBy$List");
  private static final List<DotName> LIFE_CYCLE =
      List.of(
          DELETE,
          DotName.createSimple(PACKAGE + "Insert"),
          DotName.createSimple(PACKAGE + "Save"),
          DotName.createSimple(PACKAGE + "Update"));
  private static final Set<DotName> ENTITIES =
      Set.of(
          DotName.createSimple("jakarta.persistence.Entity"),
          DotName.createSimple("javax.persistence.Entity"));

  /** The words at which a clause begins that may stand behind FROM, and strings and brackets. */
  private static final Pattern PARTS =
      Pattern.compile("(?i)'(?:[^']|'')*'|[()]|\\b(?:from|where|group|having|order)\\b");

  private static final Pattern THIS = Pattern.compile("'(?:[^']|'')*'|\\bthis\\b(\\.)?");

  private final ClassFiles classes;

  JakartaData(ClassFiles classes) {
    this.classes = classes;
  }

  static boolean isRepository(ClassInfo type) {
    return type.hasDeclaredAnnotation(REPOSITORY);
  }

  /** True for a method whose parameters are conditions. */
  static boolean asks(MethodInfo method) {
    return method.hasDeclaredAnnotation(FIND) || method.hasDeclaredAnnotation(DELETE);
  }

  /** True for a method that has its meaning from an annotation without a text. */
  static boolean isAutomatic(MethodInfo method) {
    return method.hasDeclaredAnnotation(FIND)
        || LIFE_CYCLE.stream().anyMatch(method::hasDeclaredAnnotation);
  }

  /**
   * The class of the entities that a repository without a type argument is for: what its methods
   * insert, save, update and delete, else what they find ("Primary entity type").
   */
  Optional<String> primaryEntity(ClassInfo repository) {
    for (DotName annotation : LIFE_CYCLE) {
      for (MethodInfo method : repository.methods()) {
        if (method.hasDeclaredAnnotation(annotation) && method.parametersCount() == 1) {
          Optional<String> entity = entityIn(method.parameterType(0));
          if (entity.isPresent()) {
            return entity;
          }
        }
      }
    }
    return repository.methods().stream()
        .filter(method -> method.hasDeclaredAnnotation(FIND) || method.hasDeclaredAnnotation(QUERY))
        .flatMap(method -> entityIn(method.returnType()).stream())
        .findFirst();
  }

  /** The entity that a method finds or deletes, where it names one. */
  Optional<String> entityOf(MethodInfo method) {
    return method.hasDeclaredAnnotation(FIND) ? entityIn(method.returnType()) : deleted(method);
  }

  /** The class of the rows that a method is given to delete. */
  Optional<String> deleted(MethodInfo method) {
    return method.hasDeclaredAnnotation(DELETE) && method.parametersCount() == 1
        ? entityIn(method.parameterType(0))
        : Optional.empty();
  }

  private Optional<String> entityIn(Type type) {
    return switch (type.kind()) {
      case ARRAY -> entityIn(type.asArrayType().constituent());
      case PARAMETERIZED_TYPE ->
          type.asParameterizedType().arguments().stream()
              .flatMap(it -> entityIn(it).stream())
              .findFirst();
      case CLASS ->
          classes
              .find(type.name())
              .filter(it -> ENTITIES.stream().anyMatch(it::hasDeclaredAnnotation))
              .map(it -> it.name().toString());
      default -> Optional.empty();
    };
  }

  /** A text of the annotation as a whole query: with its FROM, without {@code this}. */
  static AnnotatedText whole(
      AnnotationInstance annotation, AnnotatedText text, Optional<String> entityName) {
    if (!annotation.name().equals(QUERY) || !text.jpql() || entityName.isEmpty()) {
      return text;
    }
    String named =
        THIS.matcher(text.text())
            .replaceAll(
                found ->
                    Matcher.quoteReplacement(
                        found.group().startsWith("'")
                            ? found.group()
                            : found.group(1) == null ? entityName.get() : ""));
    return AnnotatedText.jpql(text.name(), text.attribute(), whole(named, entityName.get()));
  }

  private static String whole(String text, String entityName) {
    String start = text.strip();
    boolean selects = start.regionMatches(true, 0, "select", 0, 6);
    boolean begins = start.isEmpty() || start.matches("(?is)(where|order|group|having)\\b.*");
    if (!selects && !begins) {
      return text;
    }
    int from = clause(text, Set.of("from"));
    if (from < text.length()) {
      return text;
    }
    int place = clause(text, Set.of("where", "group", "having", "order"));
    String before = text.substring(0, place);
    return (before.isBlank() ? "" : before + " ")
        + "from "
        + entityName
        + " "
        + text.substring(place);
  }

  /**
   * The query that counts the rows of a text of the annotation, of which a page is given out; empty
   * for another annotation and for a text whose rows are not counted by themselves.
   */
  static Optional<AnnotatedText> counted(AnnotationInstance annotation, AnnotatedText text) {
    int from = clause(text.text(), Set.of("from"));
    boolean distinct = text.text().substring(0, from).matches("(?is).*\\bdistinct\\b.*");
    if (!annotation.name().equals(QUERY) || from == text.text().length() || distinct) {
      return Optional.empty();
    }
    String rows = text.text().substring(from, clause(text.text(), Set.of("order")));
    return Optional.of(
        AnnotatedText.jpql(text.name(), text.attribute(), "select count(*) " + rows));
  }

  /** Where a clause begins with one of the words, outside brackets; the end where none does. */
  private static int clause(String text, Set<String> words) {
    Matcher parts = PARTS.matcher(text);
    int depth = 0;
    while (parts.find()) {
      String part = parts.group().toLowerCase(Locale.ROOT);
      depth += part.equals("(") ? 1 : part.equals(")") ? -1 : 0;
      if (depth == 0 && words.contains(part)) {
        return parts.start();
      }
    }
    return text.length();
  }

  /**
   * The query of a method whose parameters are its conditions; empty where a parameter's name is
   * not known: neither written down nor in the class file.
   */
  static Optional<Automatic> automatic(MethodInfo method, Entity entity) {
    List<String> conditions = new ArrayList<>();
    int values = 0;
    for (MethodParameterInfo parameter : method.parameters()) {
      if (MethodSignatures.isPageOrOrder(parameter.type())) {
        continue;
      }
      AnnotationInstance by = parameter.declaredAnnotation(BY);
      String name = by == null ? parameter.name() : by.value().asString();
      if (name == null) {
        return Optional.empty();
      }
      values++;
      boolean several =
          parameter.type().kind() == Type.Kind.ARRAY
              || parameter.type().name().toString().matches("java\\.util\\.(List|Set|Collection)");
      conditions.add(path(name, entity) + (several ? " in ?" : " = ?") + values);
    }
    String where = conditions.isEmpty() ? "" : " where " + String.join(" and ", conditions);
    String from = " from " + entity.name() + " e" + where;
    if (method.hasDeclaredAnnotation(DELETE)) {
      return Optional.of(new Automatic("delete" + from, Optional.empty()));
    }
    String page = MethodSignatures.isPaged(method) ? " limit :pageSize offset :pageOffset" : "";
    return Optional.of(
        new Automatic(
            "select e" + from + orderBy(method, entity) + page,
            MethodSignatures.isCounted(method)
                ? Optional.of("select count(*)" + from)
                : Optional.empty()));
  }

  private static String orderBy(MethodInfo method, Entity entity) {
    List<AnnotationInstance> orders = new ArrayList<>();
    if (method.hasDeclaredAnnotation(ORDER_BY)) {
      orders.add(method.declaredAnnotation(ORDER_BY));
    } else if (method.hasDeclaredAnnotation(ORDERS)) {
      orders.addAll(List.of(method.declaredAnnotation(ORDERS).value().asNestedArray()));
    }
    List<String> items =
        orders.stream()
            .map(
                order -> {
                  String path = path(order.value().asString(), entity);
                  return (isTrue(order, "ignoreCase") ? "lower(" + path + ")" : path)
                      + (isTrue(order, "descending") ? " desc" : "");
                })
            .toList();
    return items.isEmpty() ? "" : " order by " + String.join(", ", items);
  }

  private static boolean isTrue(AnnotationInstance annotation, String attribute) {
    AnnotationValue value = annotation.value(attribute);
    return value != null && value.asBoolean();
  }

  /** The path that a name stands for; parts are separated by dots or underscores. */
  private static String path(String name, Entity entity) {
    if (name.equals("id(this)")) {
      return "id(e)";
    }
    boolean plain = entity.attribute(name).isPresent();
    return "e." + (plain ? name : name.replace('_', '.').replace('$', '.'));
  }
}
