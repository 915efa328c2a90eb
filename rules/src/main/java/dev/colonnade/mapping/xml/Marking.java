package dev.colonnade.mapping.xml;

import dev.colonnade.classfile.AddedAnnotation;
import dev.colonnade.classfile.AddedAnnotation.ClassName;
import dev.colonnade.classfile.AddedAnnotation.Constant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Makes annotations out of parts of mapping files. */
final class Marking {
  static final String STANDARD = "jakarta.persistence.";
  private static final String HIBERNATE = "org.hibernate.annotations.";

  private final String type;
  private final Map<String, Object> values = new LinkedHashMap<>();

  private Marking(String type) {
    this.type = type;
  }

  /** An annotation of the standard. */
  static Marking of(String simpleName) {
    return new Marking(STANDARD + simpleName);
  }

  /** An annotation of Hibernate. */
  static Marking hibernate(String simpleName) {
    return new Marking(HIBERNATE + simpleName);
  }

  Marking with(String attribute, Object value) {
    values.put(attribute, value);
    return this;
  }

  Marking with(String attribute, Optional<?> value) {
    value.ifPresent(it -> values.put(attribute, it));
    return this;
  }

  Marking constant(String attribute, String enumType, Optional<String> value) {
    value.ifPresent(it -> values.put(attribute, new Constant(STANDARD + enumType, it)));
    return this;
  }

  /**
   * How a reference or collection of an {@code hbm.xml} is read: later, unless it is said not to be
   * lazy or to be joined; and whether it goes with its owner.
   */
  Marking fetched(XmlElement element) {
    Optional<String> lazy = element.attribute("lazy");
    boolean joined =
        element.attribute("fetch").filter("join"::equals).isPresent() || element.is("outer-join");
    boolean eager = joined || lazy.filter("false"::equals).isPresent();
    constant("fetch", "FetchType", Optional.of(eager ? "EAGER" : "LAZY"));
    boolean removed =
        element.attribute("cascade").filter(it -> it.matches(".*\\b(all|delete)\\b.*")).isPresent();
    if (removed) {
      with("orphanRemoval", true);
    }
    return this;
  }

  Marking type(String attribute, Optional<String> className) {
    className.ifPresent(it -> values.put(attribute, new ClassName(it)));
    return this;
  }

  Marking list(String attribute, List<AddedAnnotation> annotations) {
    if (!annotations.isEmpty()) {
      values.put(attribute, annotations);
    }
    return this;
  }

  AddedAnnotation done() {
    return new AddedAnnotation(type, values);
  }

  /** One annotation as it is, several in their container. */
  static List<AddedAnnotation> contained(String container, List<AddedAnnotation> annotations) {
    return annotations.size() < 2
        ? annotations
        : List.of(of(container).with("value", new ArrayList<>(annotations)).done());
  }
}
