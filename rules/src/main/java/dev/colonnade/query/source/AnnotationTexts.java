package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;

/**
 * Takes the queries out of annotations: those of Spring Data, Jakarta Data, Micronaut Data and
 * Jakarta Persistence and those that the configuration names; repeated ones in their containers,
 * and annotations of the service that are themselves annotated with one.
 */
final class AnnotationTexts {
  static final String JPQL = "JPQL is not analysed yet";
  static final String NO_TEXT = "the annotation holds no text";

  private static final DotName MICRONAUT_QUERY =
      DotName.createSimple("io.micronaut.data.annotation.Query");

  private static final Set<DotName> JPA_QUERIES =
      Set.of(
          DotName.createSimple("org.springframework.data.jpa.repository.Query"),
          DotName.createSimple("jakarta.data.repository.Query"),
          MICRONAUT_QUERY);
  private static final DotName JPA_NATIVE_QUERY =
      DotName.createSimple("org.springframework.data.jpa.repository.NativeQuery");
  private static final DotName JDBC_QUERY =
      DotName.createSimple("org.springframework.data.jdbc.repository.query.Query");
  private static final DotName R2DBC_QUERY =
      DotName.createSimple("org.springframework.data.r2dbc.repository.Query");
  private static final DotName ALIAS_FOR =
      DotName.createSimple("org.springframework.core.annotation.AliasFor");
  private static final Set<DotName> NAMED_QUERIES =
      Set.of(
          DotName.createSimple("jakarta.persistence.NamedQuery"),
          DotName.createSimple("javax.persistence.NamedQuery"));
  private static final Set<DotName> NAMED_NATIVE_QUERIES =
      Set.of(
          DotName.createSimple("jakarta.persistence.NamedNativeQuery"),
          DotName.createSimple("javax.persistence.NamedNativeQuery"));

  /** Annotations of annotations of annotations are read this deep. */
  private static final int COMPOSITION_DEPTH = 3;

  private final Map<DotName, QueryAnnotation> configured = new LinkedHashMap<>();
  private final ClassFiles classes;

  AnnotationTexts(List<QueryAnnotation> configured, ClassFiles classes) {
    configured.forEach(
        annotation ->
            this.configured.put(DotName.createSimple(annotation.className()), annotation));
    this.classes = classes;
  }

  /**
   * True where the entity has a named query for a repository's method.
   *
   * @param elsewhere names of queries that stand in files
   */
  boolean namesQuery(ClassInfo entity, String method, Set<String> elsewhere) {
    String name = entity.simpleName() + "." + method;
    return elsewhere.contains(name)
        || entity.declaredAnnotations().stream()
            .flatMap(annotation -> read(annotation).stream())
            .anyMatch(text -> text.name().equals(name));
  }

  /** The queries that the annotation holds; none for an annotation of another purpose. */
  List<AnnotatedText> read(AnnotationInstance annotation) {
    return read(annotation, Map.of(), COMPOSITION_DEPTH);
  }

  private List<AnnotatedText> read(
      AnnotationInstance annotation, Map<String, AnnotationValue> overrides, int depth) {
    Map<String, AnnotationValue> attributes = new HashMap<>();
    annotation.values().forEach(value -> attributes.put(value.name(), value));
    attributes.putAll(overrides);
    DotName name = annotation.name();
    QueryAnnotation own = configured.get(name);
    if (own != null) {
      return configuredTexts(own, attributes);
    }
    if (JPA_QUERIES.contains(name)) {
      return springTexts(attributes, isNative(attributes) || isMicronautSql(annotation));
    }
    if (name.equals(JPA_NATIVE_QUERY) || name.equals(JDBC_QUERY) || name.equals(R2DBC_QUERY)) {
      return springTexts(attributes, true);
    }
    if (NAMED_QUERIES.contains(name)) {
      String text = string(attributes, "query");
      return List.of(AnnotatedText.jpql(string(attributes, "name"), "query", text));
    }
    if (NAMED_NATIVE_QUERIES.contains(name)) {
      return List.of(
          sqlOrMissing(string(attributes, "name"), "query", string(attributes, "query"), false));
    }
    List<AnnotatedText> contained = containedTexts(attributes.get("value"), depth);
    return contained.isEmpty() ? composedTexts(annotation, depth) : contained;
  }

  private static boolean isNative(Map<String, AnnotationValue> attributes) {
    AnnotationValue isNative = attributes.get("nativeQuery");
    return isNative != null
        && isNative.kind() == AnnotationValue.Kind.BOOLEAN
        && isNative.asBoolean();
  }

  private boolean isMicronautSql(AnnotationInstance annotation) {
    return annotation.name().equals(MICRONAUT_QUERY)
        && annotation.target() != null
        && annotation.target().kind() == AnnotationTarget.Kind.METHOD
        && new MicronautQueries(classes).isSql(annotation.target().asMethod().declaringClass());
  }

  private static List<AnnotatedText> springTexts(
      Map<String, AnnotationValue> attributes, boolean isSql) {
    List<AnnotatedText> texts = new ArrayList<>();
    String text = string(attributes, "value");
    texts.add(springText("", "value", text, isSql));
    String count = string(attributes, "countQuery");
    if (!count.isBlank()) {
      texts.add(springText("count", "countQuery", count, isSql));
    }
    return texts;
  }

  private static AnnotatedText springText(
      String name, String attribute, String text, boolean isSql) {
    return isSql || text.isBlank()
        ? sqlOrMissing(name, attribute, text, true)
        : AnnotatedText.jpql(name, attribute, text);
  }

  private static AnnotatedText sqlOrMissing(
      String name, String attribute, String text, boolean template) {
    return text.isBlank()
        ? AnnotatedText.problem(name, attribute, text, NO_TEXT)
        : AnnotatedText.sql(name, attribute, text, template);
  }

  private static List<AnnotatedText> configuredTexts(
      QueryAnnotation annotation, Map<String, AnnotationValue> attributes) {
    AnnotationValue value = attributes.get(annotation.attribute());
    List<String> parts =
        value == null
            ? List.of()
            : value.kind() == AnnotationValue.Kind.ARRAY
                ? value.asArrayList().stream().map(AnnotationTexts::asText).toList()
                : List.of(asText(value));
    List<String> statements =
        annotation.separateStatements() ? parts : List.of(String.join(" ", parts));
    return statements.stream()
        .map(text -> sqlOrMissing("", annotation.attribute(), text, false))
        .toList();
  }

  private List<AnnotatedText> containedTexts(AnnotationValue value, int depth) {
    if (value == null
        || value.kind() != AnnotationValue.Kind.ARRAY
        || value.componentKind() != AnnotationValue.Kind.NESTED
        || depth == 0) {
      return List.of();
    }
    List<AnnotatedText> texts = new ArrayList<>();
    for (AnnotationInstance nested : value.asNestedArray()) {
      texts.addAll(read(nested, Map.of(), depth - 1));
    }
    return texts;
  }

  private List<AnnotatedText> composedTexts(AnnotationInstance annotation, int depth) {
    ClassInfo type = classes.find(annotation.name()).orElse(null);
    if (type == null || !type.isAnnotation() || depth == 0) {
      return List.of();
    }
    List<AnnotatedText> texts = new ArrayList<>();
    for (AnnotationInstance meta : type.declaredAnnotations()) {
      texts.addAll(read(meta, aliases(annotation, type, meta.name()), depth - 1));
    }
    return texts;
  }

  /** The attributes of the meta-annotation that attributes of the annotation stand for. */
  private static Map<String, AnnotationValue> aliases(
      AnnotationInstance annotation, ClassInfo type, DotName target) {
    Map<String, AnnotationValue> result = new HashMap<>();
    for (MethodInfo attribute : type.methods()) {
      AnnotationInstance alias = attribute.declaredAnnotation(ALIAS_FOR);
      if (alias == null
          || alias.value("annotation") == null
          || !alias.value("annotation").asClass().name().equals(target)) {
        continue;
      }
      AnnotationValue written = annotation.value(attribute.name());
      AnnotationValue value = written == null ? attribute.defaultValue() : written;
      if (value != null) {
        result.put(aliasedName(alias, attribute), value);
      }
    }
    return result;
  }

  private static String aliasedName(AnnotationInstance alias, MethodInfo attribute) {
    AnnotationValue named =
        alias.value("attribute") == null ? alias.value("value") : alias.value("attribute");
    return named == null || named.asString().isEmpty() ? attribute.name() : named.asString();
  }

  private static String string(Map<String, AnnotationValue> attributes, String name) {
    AnnotationValue value = attributes.get(name);
    return value == null ? "" : asText(value);
  }

  private static String asText(AnnotationValue value) {
    return value.kind() == AnnotationValue.Kind.STRING ? value.asString() : "";
  }
}
