package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Fetching;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.source.AttributeReader.Place;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
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
  private final IdentifierReader identifiers;

  MapKeys(Reading reading, AttributeReader attributes, IdentifierReader identifiers) {
    this.identifiers = identifiers;
    this.reading = reading;
    this.attributes = attributes;
  }

  static boolean isMap(Member member) {
    return MAPS.contains(member.className());
  }

  /**
   * The key where it is a value in a column of its own or refers to an entity; a key that is an
   * attribute of the target has no column of its own.
   */
  Optional<Attribute> read(Member member, Place place, Identifier table) {
    Optional<Type> type =
        isMap(member) ? member.arguments().argument(member.type(), 0) : Optional.empty();
    if (type.isEmpty() || Marks.has(member.target(), "MapKey")) {
      return Optional.empty();
    }
    Optional<EntityClass> entity = reading.entity(TypeArguments.className(type.get()));
    if (entity.isPresent()) {
      return entity(member, table, entity.get());
    }
    Optional<AnnotationInstance> column = Marks.find(member.target(), "MapKeyColumn");
    String name = Marks.text(column, "name").orElse(member.name() + "_KEY");
    return Optional.of(
        new Attribute.Basic(
            "key",
            new MappedColumn(table, reading.names.physical(name)),
            attributes.valueType(member, TypeArguments.className(type.get()), "MapKeyEnumerated")));
  }

  /** An entity as key: named after the collection where nothing is written. */
  private Optional<Attribute> entity(Member member, Identifier table, EntityClass target) {
    List<AnnotationInstance> given =
        Marks.all(member.target(), "MapKeyJoinColumn", "MapKeyJoinColumns");
    List<ColumnPair> pairs = new ArrayList<>();
    List<Identifier> ids = identifiers.columns(target);
    for (int i = 0; i < ids.size(); i++) {
      Optional<AnnotationInstance> column =
          i < given.size() ? Optional.of(given.get(i)) : Optional.empty();
      String standard = member.name() + "_KEY" + (ids.size() > 1 ? "_" + ids.get(i).text() : "");
      String name = Marks.text(column, "name").orElse(standard);
      pairs.add(new ColumnPair(reading.names.physical(name), ids.get(i)));
    }
    return Optional.of(
        new Attribute.ToOne(
            "key",
            target.className(),
            new Link.OwnColumns(table, pairs),
            false,
            false,
            false,
            new Fetching(true, Fetching.Style.JOIN, Fetching.Removal.NEVER)));
  }
}
