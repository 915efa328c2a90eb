package dev.colonnade.mapping.xml;

import dev.colonnade.classfile.AddedAnnotation;
import dev.colonnade.classfile.ClassAddition;
import dev.colonnade.classfile.ClassAddition.Access;
import dev.colonnade.classfile.ClassAddition.Member;
import dev.colonnade.location.SourceLocation;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Reads one {@code orm.xml} (Jakarta Persistence 3.2, chapter 12): what it says takes the place of
 * the annotation of the same purpose, member by member.
 */
final class OrmFile {
  private final String name;
  private final String file;
  private final Map<String, ClassAddition> classes;
  private final List<XmlQuery> queries;
  private String packageName = "";
  private Optional<Access> access = Optional.empty();
  private Optional<String> schema = Optional.empty();
  private boolean complete;

  OrmFile(String name, String file, Map<String, ClassAddition> classes, List<XmlQuery> queries) {
    this.name = name;
    this.file = file;
    this.classes = classes;
    this.queries = queries;
  }

  void read(XmlElement root) {
    packageName = root.textOf("package").orElse("");
    access = root.textOf("access").map(Access::valueOf);
    Optional<XmlElement> unit = root.first("persistence-unit-metadata");
    complete = unit.flatMap(it -> it.first("xml-mapping-metadata-complete")).isPresent();
    Optional<XmlElement> defaults = unit.flatMap(it -> it.first("persistence-unit-defaults"));
    access = access.or(() -> defaults.flatMap(it -> it.textOf("access")).map(Access::valueOf));
    schema = root.textOf("schema").or(() -> defaults.flatMap(it -> it.textOf("schema")));
    queries(root);
    for (XmlElement child : root.children()) {
      switch (child.name()) {
        case "entity" -> type(child, "Entity");
        case "mapped-superclass" -> type(child, "MappedSuperclass");
        case "embeddable" -> type(child, "Embeddable");
        case "converter" -> type(child, "Converter");
        default -> {}
      }
    }
  }

  private void queries(XmlElement parent) {
    for (String kind : List.of("named-query", "named-native-query")) {
      for (XmlElement query : parent.all(kind)) {
        query
            .first("query")
            .ifPresent(
                text ->
                    queries.add(
                        new XmlQuery(
                            name,
                            query.attribute("name").orElse(""),
                            text.text(),
                            kind.equals("named-native-query"),
                            SourceLocation.of(file, query.line()),
                            text.textLine())));
      }
    }
  }

  private String className(String written) {
    return written.indexOf('.') >= 0 || packageName.isEmpty() || OrmParts.isPrimitive(written)
        ? written
        : packageName + "." + written;
  }

  private void type(XmlElement element, String mark) {
    String className = className(element.attribute("class").orElse(""));
    ClassAddition addition =
        classes.computeIfAbsent(
            className, it -> new ClassAddition(it, SourceLocation.of(file, element.line())));
    if (isComplete(element)) {
      addition.makeComplete();
    }
    addition.access(element.attribute("access").map(Access::valueOf).or(() -> access));
    Marking marking = Marking.of(mark);
    if (mark.equals("Entity")) {
      marking.with("name", element.attribute("name"));
    } else if (mark.equals("Converter")) {
      marking.with("autoApply", element.is("auto-apply"));
    }
    addition.add(marking.done());
    OrmParts parts = new OrmParts(this::className, schema);
    parts.ofClass(element).forEach(addition::add);
    boolean named = element.first("table").isPresent();
    if (mark.equals("Entity") && !named && isComplete(element) && schema.isPresent()) {
      addition.add(Marking.of("Table").with("schema", schema).done());
    }
    queries(element);
    element
        .first("attributes")
        .ifPresent(attributes -> attributes.children().forEach(it -> member(addition, parts, it)));
  }

  private boolean isComplete(XmlElement type) {
    return type.attribute("metadata-complete").map("true"::equals).orElse(complete);
  }

  private static void member(ClassAddition addition, OrmParts parts, XmlElement element) {
    Optional<String> member = element.attribute("name");
    if (member.isEmpty()) {
      return;
    }
    List<AddedAnnotation> annotations = new ArrayList<>(parts.ofMember(element));
    addition.member(
        member.get(),
        new Member(
            annotations, element.attribute("access").map(Access::valueOf), Optional.empty()));
  }
}
