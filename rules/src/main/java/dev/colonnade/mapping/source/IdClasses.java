package dev.colonnade.mapping.source;

import dev.colonnade.mapping.source.EntityClass.Layer;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;

/**
 * Identifiers whose mapping stands in the class of {@code @IdClass}: as soon as one of its members
 * is mapped, Hibernate ORM takes the columns of all from there, not from the entity (seen of 5.6
 * and 7.4).
 */
final class IdClasses {
  private static final String[] MAPPED = {
    "Column", "ManyToOne", "OneToOne", "OneToMany", "ManyToMany", "Id", "GeneratedValue"
  };

  private IdClasses() {}

  /** The members of the entity's class of identifiers by name; none where it maps nothing. */
  static Map<String, Member> mapped(EntityClass entity, Reading reading) {
    Map<String, Member> result = new LinkedHashMap<>();
    for (Layer layer : entity.layers) {
      Optional<ClassInfo> type =
          Marks.find(layer.type(), "IdClass")
              .map(annotation -> annotation.value())
              .filter(value -> value.kind() == AnnotationValue.Kind.CLASS)
              .flatMap(value -> reading.classOf(value.asClass().name().toString()))
              .filter(IdClasses::isMapped);
      if (type.isPresent()) {
        Members.of(type.get(), entity.access, TypeArguments.NONE)
            .forEach(member -> result.putIfAbsent(member.name(), member));
      }
    }
    return result;
  }

  private static boolean isMapped(ClassInfo type) {
    return Stream.<AnnotationTarget>concat(type.fields().stream(), type.methods().stream())
        .anyMatch(member -> Marks.hasAny(member, MAPPED));
  }

  /** What maps an attribute of the identifier: a reference of the entity's stays one. */
  static Member chosen(Member own, Map<String, Member> outside) {
    Member other = outside.get(own.name());
    boolean isKeyOfReference =
        other != null
            && Marks.hasAny(own.target(), "ManyToOne", "OneToOne")
            && !Marks.hasAny(other.target(), "ManyToOne", "OneToOne");
    return other == null || isKeyOfReference ? own : other;
  }
}
