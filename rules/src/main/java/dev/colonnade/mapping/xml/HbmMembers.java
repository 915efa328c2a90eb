package dev.colonnade.mapping.xml;

import dev.colonnade.classfile.AddedAnnotation;
import dev.colonnade.classfile.ClassAddition;
import dev.colonnade.classfile.ClassAddition.Member;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Reads the members of one class in an {@code hbm.xml}. */
final class HbmMembers {
  private final HbmFile file;
  private final ClassAddition addition;
  private final HbmCollections collections;
  private final List<AddedAnnotation> furtherTables = new ArrayList<>();

  HbmMembers(HbmFile file, ClassAddition addition) {
    this.file = file;
    this.addition = addition;
    this.collections = new HbmCollections(file, addition.className(), this);
  }

  /** The tables beside the first in which the class has columns; known when it is read. */
  List<AddedAnnotation> furtherTables() {
    return furtherTables;
  }

  /** One child of a class. */
  void read(XmlElement element) {
    read(element, Optional.empty());
  }

  private void read(XmlElement element, Optional<String> table) {
    switch (element.name()) {
      case "id" -> value(element, "Id", table);
      case "composite-id" -> compositeId(element);
      case "version" -> value(element, "Version", table);
      case "timestamp" -> value(element, "Version", table);
      case "property", "many-to-one", "one-to-one", "component" -> member(element, table);
      case "properties", "natural-id" -> element.children().forEach(child -> read(child, table));
      case "set", "bag", "list", "map", "idbag", "array" -> {
        Member member = collections.read(element);
        put(element, member.annotations(), member.type());
      }
      case "any" -> put(element, ofAnyClass(element), Optional.empty());
      case "many-to-any" ->
          put(element, List.of(Marking.hibernate("ManyToAny").done()), Optional.empty());
      case "dynamic-component", "primitive-array" ->
          file.problem(element, "a " + element.name() + " is not read");
      case "join" -> join(element);
      default -> {}
    }
  }

  /** The first column tells the class, the second is the key; it is read when it is asked for. */
  private static List<AddedAnnotation> ofAnyClass(XmlElement element) {
    List<String> columns = HbmColumns.names(element);
    List<AddedAnnotation> result = new ArrayList<>();
    result.add(Marking.hibernate("Any").constant("fetch", "FetchType", Optional.of("LAZY")).done());
    if (columns.size() == 2) {
      result.add(Marking.of("Column").with("name", columns.get(0)).done());
      result.add(Marking.of("JoinColumn").with("name", columns.get(1)).done());
    }
    return result;
  }

  private void put(XmlElement element, List<AddedAnnotation> annotations, Optional<String> type) {
    String name = element.attribute("name").orElse("id");
    addition.member(name, new Member(annotations, Optional.empty(), type));
  }

  private void member(XmlElement element, Optional<String> table) {
    put(element, annotations(element, table), typeOf(element));
  }

  private void value(XmlElement element, String mark, Optional<String> table) {
    List<AddedAnnotation> annotations = new ArrayList<>();
    annotations.add(Marking.of(mark).done());
    annotations.addAll(basic(element, table));
    put(element, annotations, HbmColumns.javaType(element));
  }

  /** A part of a row in a further table. */
  private void join(XmlElement element) {
    Optional<String> table = element.attribute("table");
    List<AddedAnnotation> key =
        element.first("key").map(HbmColumns::names).orElse(List.of()).stream()
            .map(it -> Marking.of("PrimaryKeyJoinColumn").with("name", it).done())
            .toList();
    furtherTables.add(file.table("SecondaryTable", element).list("pkJoinColumns", key).done());
    element.children().forEach(child -> read(child, table));
  }

  private void compositeId(XmlElement element) {
    if (element.attribute("name").isPresent() && element.attribute("class").isPresent()) {
      List<AddedAnnotation> annotations = new ArrayList<>();
      annotations.add(Marking.of("EmbeddedId").done());
      annotations.addAll(component(element));
      put(element, annotations, typeOf(element));
      return;
    }
    for (XmlElement part : element.children()) {
      if (part.name().equals("key-property") || part.name().equals("key-many-to-one")) {
        List<AddedAnnotation> annotations = new ArrayList<>();
        annotations.add(Marking.of("Id").done());
        annotations.addAll(annotations(part, Optional.empty()));
        put(part, annotations, typeOf(part));
      }
    }
  }

  private Optional<String> typeOf(XmlElement element) {
    return element.attribute("class").map(file::className).or(() -> HbmColumns.javaType(element));
  }

  /** The annotations of a value, a reference or a component. */
  List<AddedAnnotation> annotations(XmlElement element, Optional<String> table) {
    return switch (element.name()) {
      case "many-to-one", "key-many-to-one" -> reference(element, table);
      case "one-to-one" -> oneToOne(element);
      case "component", "nested-composite-element" -> {
        List<AddedAnnotation> result = new ArrayList<>();
        result.add(Marking.of("Embedded").done());
        result.addAll(component(element));
        yield result;
      }
      default -> basic(element, table);
    };
  }

  private static List<AddedAnnotation> basic(XmlElement element, Optional<String> table) {
    Optional<String> formula = HbmColumns.formula(element);
    if (formula.isPresent()) {
      return List.of(Marking.hibernate("Formula").with("value", formula.get()).done());
    }
    List<AddedAnnotation> result = new ArrayList<>();
    List<String> columns = HbmColumns.names(element);
    if (!columns.isEmpty()) {
      result.add(HbmColumns.column(columns.get(0), table));
    } else if (table.isPresent()) {
      result.add(Marking.of("Column").with("table", table).done());
    }
    result.addAll(HbmColumns.type(element, "Enumerated"));
    return result;
  }

  private List<AddedAnnotation> reference(XmlElement element, Optional<String> table) {
    Optional<String> referred = element.attribute("property-ref");
    List<String> target =
        referred.map(it -> file.columnsOf(targetOf(element), it)).orElse(List.of());
    if (HbmColumns.formula(element).isPresent() || (referred.isPresent() && target.isEmpty())) {
      return List.of(Marking.of("ManyToOne").done(), Marking.hibernate("JoinFormula").done());
    }
    List<AddedAnnotation> result = new ArrayList<>();
    result.add(
        Marking.of("ManyToOne")
            .type("targetEntity", element.attribute("class").map(file::className))
            .with("optional", !element.is("not-null"))
            .fetched(element)
            .done());
    List<String> columns = HbmColumns.names(element);
    // Without a column the property's own name is the column's, unlike under the standard.
    List<String> names = columns.isEmpty() ? element.attribute("name").stream().toList() : columns;
    result.addAll(Marking.contained("JoinColumns", HbmColumns.joinColumns(names, table, target)));
    return result;
  }

  /** The class that a reference leads to, where it is written. */
  private String targetOf(XmlElement element) {
    return element.attribute("class").map(file::className).orElse("");
  }

  private List<AddedAnnotation> oneToOne(XmlElement element) {
    Optional<String> back = element.attribute("property-ref");
    List<AddedAnnotation> result = new ArrayList<>();
    result.add(
        Marking.of("OneToOne")
            .type("targetEntity", element.attribute("class").map(file::className))
            .with("mappedBy", back)
            .with("optional", !element.is("constrained"))
            .fetched(element)
            .done());
    if (back.isEmpty()) {
      result.add(Marking.of("PrimaryKeyJoinColumn").done());
    }
    return result;
  }

  /**
   * The columns of a component's members, as overrides: its class may be mapped in other columns
   * elsewhere.
   */
  List<AddedAnnotation> component(XmlElement element) {
    List<AddedAnnotation> columns = new ArrayList<>();
    List<AddedAnnotation> joins = new ArrayList<>();
    members(element, "", columns, joins);
    List<AddedAnnotation> result =
        new ArrayList<>(Marking.contained("AttributeOverrides", columns));
    result.addAll(Marking.contained("AssociationOverrides", joins));
    return result;
  }

  private void members(
      XmlElement element, String path, List<AddedAnnotation> columns, List<AddedAnnotation> joins) {
    Optional<String> className = element.attribute("class").map(file::className);
    if (className.isEmpty()) {
      file.problem(element, "the class of the component is not written");
      return;
    }
    ClassAddition component = file.addition(className.get(), element);
    component.add(Marking.of("Embeddable").done());
    HbmMembers own = new HbmMembers(file, component);
    for (XmlElement part : element.children()) {
      Optional<String> name = part.attribute("name");
      if (name.isEmpty() || part.name().equals("column")) {
        continue;
      }
      String inner = path + name.get();
      switch (part.name()) {
        case "component", "nested-composite-element" -> members(part, inner + ".", columns, joins);
        case "many-to-one", "key-many-to-one" ->
            joins.add(
                Marking.of("AssociationOverride")
                    .with("name", inner)
                    .list(
                        "joinColumns",
                        HbmColumns.joinColumns(HbmColumns.names(part), Optional.empty()))
                    .done());
        case "property", "key-property" -> {
          List<String> names = HbmColumns.names(part);
          if (!names.isEmpty()) {
            columns.add(
                Marking.of("AttributeOverride")
                    .with("name", inner)
                    .with("column", HbmColumns.column(names.get(0), Optional.empty()))
                    .done());
          }
        }
        default -> {}
      }
      if (part.name().startsWith("key-")) {
        own.put(part, own.annotations(part, Optional.empty()), own.typeOf(part));
      } else if (part.name().equals("nested-composite-element")) {
        own.put(part, List.of(Marking.of("Embedded").done()), own.typeOf(part));
      } else {
        own.read(part);
      }
    }
  }
}
