package dev.colonnade.mapping.xml;

import dev.colonnade.classfile.AddedAnnotation;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;

/**
 * Turns elements of an {@code orm.xml} into the annotations that they stand for: their names and
 * attributes are the annotations' with hyphens (Jakarta Persistence 3.2, section 12.3).
 */
final class OrmParts {
  private static final Set<String> PRIMITIVES =
      Set.of("boolean", "byte", "char", "short", "int", "long", "float", "double");
  private static final Map<String, String> KINDS =
      Map.ofEntries(
          Map.entry("id", "Id"),
          Map.entry("embedded-id", "EmbeddedId"),
          Map.entry("basic", "Basic"),
          Map.entry("version", "Version"),
          Map.entry("many-to-one", "ManyToOne"),
          Map.entry("one-to-many", "OneToMany"),
          Map.entry("one-to-one", "OneToOne"),
          Map.entry("many-to-many", "ManyToMany"),
          Map.entry("element-collection", "ElementCollection"),
          Map.entry("embedded", "Embedded"),
          Map.entry("transient", "Transient"));

  private final UnaryOperator<String> className;
  private final Optional<String> defaultSchema;

  /**
   * A translator.
   *
   * @param className completes the names of classes
   * @param defaultSchema the schema of tables that say none
   */
  OrmParts(UnaryOperator<String> className, Optional<String> defaultSchema) {
    this.className = className;
    this.defaultSchema = defaultSchema;
  }

  static boolean isPrimitive(String name) {
    return PRIMITIVES.contains(name);
  }

  /** The annotations of a class. */
  List<AddedAnnotation> ofClass(XmlElement element) {
    List<AddedAnnotation> result = new ArrayList<>();
    element.first("table").ifPresent(it -> result.add(table("Table", it).done()));
    List<AddedAnnotation> secondary =
        element.all("secondary-table").stream()
            .map(
                it ->
                    table("SecondaryTable", it)
                        .list("pkJoinColumns", primaryKeyJoinColumns(it))
                        .done())
            .toList();
    result.addAll(Marking.contained("SecondaryTables", secondary));
    result.addAll(Marking.contained("PrimaryKeyJoinColumns", primaryKeyJoinColumns(element)));
    element
        .first("inheritance")
        .ifPresent(
            it ->
                result.add(
                    Marking.of("Inheritance")
                        .constant("strategy", "InheritanceType", it.attribute("strategy"))
                        .done()));
    element
        .first("discriminator-column")
        .ifPresent(
            it ->
                result.add(
                    Marking.of("DiscriminatorColumn")
                        .with("name", it.attribute("name"))
                        .constant(
                            "discriminatorType",
                            "DiscriminatorType",
                            it.attribute("discriminator-type"))
                        .done()));
    element
        .textOf("discriminator-value")
        .ifPresent(it -> result.add(Marking.of("DiscriminatorValue").with("value", it).done()));
    element
        .first("id-class")
        .ifPresent(
            it ->
                result.add(
                    Marking.of("IdClass")
                        .type("value", it.attribute("class").map(className))
                        .done()));
    result.addAll(overrides(element, "attribute-override", "association-override"));
    return result;
  }

  /** The annotations of a member. */
  List<AddedAnnotation> ofMember(XmlElement element) {
    List<AddedAnnotation> result = new ArrayList<>();
    String kind = KINDS.get(element.name());
    if (kind == null) {
      return result;
    }
    Optional<String> target =
        element.attribute("target-entity").or(() -> element.attribute("target-class"));
    Marking marking =
        Marking.of(kind)
            .with("mappedBy", element.attribute("mapped-by"))
            .type(
                kind.equals("ElementCollection") ? "targetClass" : "targetEntity",
                target.map(className));
    if (kind.equals("ManyToOne") || kind.equals("OneToOne") || kind.equals("Basic")) {
      marking.with("optional", element.attribute("optional").map("true"::equals));
    }
    marking.constant("fetch", "FetchType", element.attribute("fetch"));
    boolean removed =
        element.is("orphan-removal")
            || element.first("cascade").stream()
                .flatMap(it -> it.children().stream())
                .anyMatch(it -> it.name().matches("cascade-(all|remove)"));
    if (removed) {
      marking.with("orphanRemoval", true);
    }
    result.add(marking.done());
    if (element.is("id")) {
      result.add(Marking.of("Id").done());
    }
    element
        .attribute("maps-id")
        .ifPresent(it -> result.add(Marking.of("MapsId").with("value", it).done()));
    element.first("column").ifPresent(it -> result.add(plain("Column", it).done()));
    result.addAll(Marking.contained("JoinColumns", joinColumns(element, "join-column")));
    result.addAll(Marking.contained("PrimaryKeyJoinColumns", primaryKeyJoinColumns(element)));
    table(element, "join-table", "JoinTable").ifPresent(result::add);
    table(element, "collection-table", "CollectionTable").ifPresent(result::add);
    element.first("order-column").ifPresent(it -> result.add(plain("OrderColumn", it).done()));
    element
        .first("order-by")
        .ifPresent(it -> result.add(Marking.of("OrderBy").with("value", it.text().strip()).done()));
    constant(element, "enumerated", "Enumerated", "EnumType", result);
    constant(element, "map-key-enumerated", "MapKeyEnumerated", "EnumType", result);
    element.first("lob").ifPresent(it -> result.add(Marking.of("Lob").done()));
    convert(element).ifPresent(result::add);
    element.first("map-key").ifPresent(it -> result.add(plain("MapKey", it).done()));
    element.first("map-key-column").ifPresent(it -> result.add(plain("MapKeyColumn", it).done()));
    result.addAll(Marking.contained("MapKeyJoinColumns", mapKeyJoinColumns(element)));
    result.addAll(overrides(element, "attribute-override", "association-override"));
    result.addAll(overrides(element, "map-key-attribute-override", "map-key-association-override"));
    return result;
  }

  private static Optional<AddedAnnotation> convert(XmlElement element) {
    return element
        .first("convert")
        .map(
            it ->
                Marking.of("Convert")
                    .with("disableConversion", it.is("disable-conversion"))
                    .done());
  }

  private static void constant(
      XmlElement element,
      String child,
      String annotation,
      String enumType,
      List<AddedAnnotation> result) {
    element
        .textOf(child)
        .ifPresent(
            it ->
                result.add(
                    Marking.of(annotation).constant("value", enumType, Optional.of(it)).done()));
  }

  /** Name and the like, which have the same names in annotations. */
  private static Marking plain(String annotation, XmlElement element) {
    return Marking.of(annotation)
        .with("name", element.attribute("name"))
        .with("table", element.attribute("table"))
        .with("referencedColumnName", element.attribute("referenced-column-name"));
  }

  private Marking table(String annotation, XmlElement element) {
    return plain(annotation, element)
        .with("schema", element.attribute("schema").or(() -> defaultSchema))
        .with("catalog", element.attribute("catalog"));
  }

  private static List<AddedAnnotation> joinColumns(XmlElement element, String child) {
    return element.all(child).stream().map(it -> plain("JoinColumn", it).done()).toList();
  }

  private static List<AddedAnnotation> mapKeyJoinColumns(XmlElement element) {
    return element.all("map-key-join-column").stream()
        .map(it -> plain("MapKeyJoinColumn", it).done())
        .toList();
  }

  private static List<AddedAnnotation> primaryKeyJoinColumns(XmlElement element) {
    return element.all("primary-key-join-column").stream()
        .map(it -> plain("PrimaryKeyJoinColumn", it).done())
        .toList();
  }

  private Optional<AddedAnnotation> table(XmlElement element, String child, String annotation) {
    return element
        .first(child)
        .map(
            it ->
                table(annotation, it)
                    .list("joinColumns", joinColumns(it, "join-column"))
                    .list("inverseJoinColumns", joinColumns(it, "inverse-join-column"))
                    .done());
  }

  private static List<AddedAnnotation> overrides(
      XmlElement element, String attribute, String association) {
    List<AddedAnnotation> columns = new ArrayList<>();
    for (XmlElement override : element.all(attribute)) {
      override
          .first("column")
          .ifPresent(
              column ->
                  columns.add(
                      Marking.of("AttributeOverride")
                          .with("name", path(override))
                          .with("column", plain("Column", column).done())
                          .done()));
    }
    List<AddedAnnotation> joins = new ArrayList<>();
    for (XmlElement override : element.all(association)) {
      joins.add(
          Marking.of("AssociationOverride")
              .with("name", path(override))
              .list("joinColumns", joinColumns(override, "join-column"))
              .done());
    }
    List<AddedAnnotation> result =
        new ArrayList<>(Marking.contained("AttributeOverrides", columns));
    result.addAll(Marking.contained("AssociationOverrides", joins));
    return result;
  }

  private static String path(XmlElement override) {
    String name = override.attribute("name").orElse("");
    return override.name().startsWith("map-key-") ? "key." + name : name;
  }
}
