package dev.colonnade.mapping.xml;

import dev.colonnade.classfile.AddedAnnotation;
import dev.colonnade.classfile.AddedAnnotation.Constant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Reads columns and types of {@code hbm.xml} elements. */
final class HbmColumns {
  /**
   * Hibernate's names of types whose values are written as they are (user guide, "Basic types").
   */
  private static final Set<String> PLAIN =
      Set.of(
          "string",
          "text",
          "nstring",
          "ntext",
          "int",
          "integer",
          "long",
          "short",
          "byte",
          "float",
          "double",
          "big_decimal",
          "big_integer",
          "boolean",
          "date",
          "time",
          "timestamp",
          "calendar",
          "calendar_date",
          "binary",
          "char",
          "character",
          "clob",
          "blob",
          "materialized_clob",
          "materialized_blob",
          "uuid-char",
          "uuid-binary",
          "locale",
          "currency",
          "timezone",
          "class",
          "serializable",
          "image",
          "dbtimestamp");

  private HbmColumns() {}

  /** The names of an element's columns, written in an attribute or in elements. */
  static List<String> names(XmlElement element) {
    Optional<String> attribute = element.attribute("column");
    if (attribute.isPresent()) {
      return List.of(attribute.get());
    }
    return element.all("column").stream()
        .flatMap(column -> column.attribute("name").stream())
        .toList();
  }

  static AddedAnnotation column(String name, Optional<String> table) {
    return Marking.of("Column").with("name", name).with("table", table).done();
  }

  static List<AddedAnnotation> joinColumns(List<String> names, Optional<String> table) {
    return joinColumns(names, table, List.of());
  }

  /**
   * Columns that refer to a row.
   *
   * @param target the columns that they refer to, in the same order; none for the key
   */
  static List<AddedAnnotation> joinColumns(
      List<String> names, Optional<String> table, List<String> target) {
    List<AddedAnnotation> result = new ArrayList<>();
    for (int i = 0; i < names.size(); i++) {
      result.add(
          Marking.of("JoinColumn")
              .with("name", names.get(i))
              .with("table", table)
              .with(
                  "referencedColumnName",
                  i < target.size() ? Optional.of(target.get(i)) : Optional.empty())
              .done());
    }
    return result;
  }

  /** What the type of a value adds to its column. */
  static List<AddedAnnotation> type(XmlElement element, String enumAnnotation) {
    Optional<XmlElement> nested = element.first("type");
    Optional<String> written =
        element.attribute("type").or(() -> nested.flatMap(it -> it.attribute("name")));
    if (written.isEmpty() || PLAIN.contains(written.get()) || written.get().startsWith("java.")) {
      return List.of();
    }
    if (written.get().endsWith("EnumType")) {
      boolean named =
          nested.stream()
              .flatMap(it -> it.all("param").stream())
              .anyMatch(
                  it ->
                      Map.of("useNamed", "true", "type", "12")
                          .getOrDefault(it.attribute("name").orElse(""), "")
                          .equals(it.text().strip()));
      return List.of(
          Marking.of(enumAnnotation)
              .with(
                  "value",
                  new Constant("jakarta.persistence.EnumType", named ? "STRING" : "ORDINAL"))
              .done());
    }
    return List.of(Marking.hibernate("Type").done());
  }

  /** The class of a value that no member tells. */
  static Optional<String> javaType(XmlElement element) {
    return element
        .attribute("type")
        .flatMap(
            it ->
                switch (it) {
                  case "string", "text" -> Optional.of("java.lang.String");
                  case "boolean", "yes_no", "true_false" -> Optional.of("java.lang.Boolean");
                  case "int", "integer" -> Optional.of("java.lang.Integer");
                  case "long" -> Optional.of("java.lang.Long");
                  default -> it.startsWith("java.") ? Optional.of(it) : Optional.empty();
                });
  }

  /** SQL in the place of a column. */
  static Optional<String> formula(XmlElement element) {
    return element.attribute("formula").or(() -> element.textOf("formula"));
  }
}
