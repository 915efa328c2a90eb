package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.source.AttributeReader.Place;
import dev.colonnade.predicate.Identifier;
import java.util.Optional;
import java.util.Set;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.Type;

/** Reads the keys of maps. */
final class MapKeys {
  private static final Set<String> MAPS =
      Set.of("java.util.Map", "java.util.SortedMap", "java.util.NavigableMap", "java.util.HashMap");

  private final Reading reading;
  private final AttributeReader attributes;

  MapKeys(Reading reading, AttributeReader attributes) {
    this.reading = reading;
    this.attributes = attributes;
  }

  static boolean isMap(Member member) {
    return MAPS.contains(member.className());
  }

  /**
   * The key where it is a value in a column of its own; a key that is an attribute of the target or
   * an entity is not read.
   */
  Optional<Attribute> read(Member member, Place place, Identifier table) {
    Optional<Type> type =
        isMap(member) ? member.arguments().argument(member.type(), 0) : Optional.empty();
    if (type.isEmpty()
        || Marks.hasAny(member.target(), "MapKey", "MapKeyJoinColumn", "MapKeyJoinColumns")
        || reading.entity(TypeArguments.className(type.get())).isPresent()) {
      return Optional.empty();
    }
    Optional<AnnotationInstance> column = Marks.find(member.target(), "MapKeyColumn");
    String name = Marks.text(column, "name").orElse(member.name() + "_KEY");
    return Optional.of(
        new Attribute.Basic(
            "key",
            new MappedColumn(table, reading.names.physical(name)),
            attributes.valueType(member, TypeArguments.className(type.get()), "MapKeyEnumerated")));
  }
}
