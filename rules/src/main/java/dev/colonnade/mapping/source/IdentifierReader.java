package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.source.AttributeReader.Place;
import dev.colonnade.mapping.source.EntityClass.Layer;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;

/** Reads identifiers, which the columns of references depend on, ahead of other attributes. */
final class IdentifierReader {
  private final AttributeReader attributes;
  private final Reading reading;

  IdentifierReader(Reading reading) {
    this.reading = reading;
    this.attributes = new AttributeReader(reading, this);
  }

  AttributeReader attributes() {
    return attributes;
  }

  /** The columns of an entity's identifier, in its own table. */
  List<Identifier> columns(EntityClass entity) {
    return Entity.columnsOf(id(entity)).stream().map(MappedColumn::name).toList();
  }

  /** The attributes of the identifier, in columns of the entity's own table. */
  List<Attribute> id(EntityClass entity) {
    if (entity.id == null) {
      if (entity.readingId) {
        return List.of();
      }
      entity.readingId = true;
      entity.id =
          entity.parent.isPresent() ? inherited(entity, entity.parent.get()) : declared(entity);
      entity.readingId = false;
    }
    return entity.id;
  }

  private List<Attribute> inherited(EntityClass entity, EntityClass parent) {
    List<Identifier> columns = columns(parent);
    if (entity.inheritance == Inheritance.JOINED) {
      columns = joinColumns(entity, columns);
    }
    return relocated(id(parent), entity.table(), columns);
  }

  /** The columns of a joined subclass's table that hold the identifier. */
  private List<Identifier> joinColumns(EntityClass entity, List<Identifier> parentColumns) {
    List<AnnotationInstance> given =
        Marks.all(entity.type, "PrimaryKeyJoinColumn", "PrimaryKeyJoinColumns");
    List<Identifier> result = new ArrayList<>();
    for (int i = 0; i < parentColumns.size(); i++) {
      Optional<String> name =
          i < given.size() ? Marks.text(given.get(i), "name") : Optional.<String>empty();
      result.add(name.map(reading.names::physical).orElse(parentColumns.get(i)));
    }
    return result;
  }

  private List<Attribute> declared(EntityClass entity) {
    List<Attribute> result = new ArrayList<>();
    List<Member> derivations = new ArrayList<>();
    Map<String, Member> outside = IdClasses.mapped(entity, reading);
    for (Layer layer : entity.layers) {
      Place place = place(entity, layer);
      for (Member member : Members.of(layer.type(), entity.access, layer.arguments())) {
        if (member.isId()) {
          attributes.read(IdClasses.chosen(member, outside), place).ifPresent(result::add);
        } else if (Marks.has(member.target(), "MapsId")) {
          derivations.add(member);
        }
      }
    }
    for (Member member : derivations) {
      attributes
          .read(member, place(entity, entity.layers.get(entity.layers.size() - 1)))
          .ifPresent(derivation -> derive(result, member, derivation, entity.table()));
    }
    return result;
  }

  static Place place(EntityClass entity, Layer layer) {
    return new Place(
        entity,
        layer.owner(),
        entity.tableOf(layer),
        entity.access,
        Overrides.NONE.and(layer.owner().type));
  }

  /** Puts the columns of a reference in place of those of the part of the identifier it maps. */
  private static void derive(
      List<Attribute> id, Member member, Attribute derivation, Identifier table) {
    if (!(derivation instanceof Attribute.ToOne one)
        || !(one.link() instanceof Link.OwnColumns own)) {
      return;
    }
    List<Identifier> columns = own.pairs().stream().map(ColumnPair::column).toList();
    Optional<String> part = Marks.text(Marks.find(member.target(), "MapsId"), "value");
    for (int i = 0; i < id.size(); i++) {
      if (part.isEmpty()) {
        id.set(i, relocated(List.of(id.get(i)), table, columns).get(0));
      } else if (id.get(i) instanceof Attribute.Embedded embedded) {
        List<Attribute> parts = new ArrayList<>(embedded.attributes());
        parts.replaceAll(
            it ->
                it.name().equals(part.get()) ? relocated(List.of(it), table, columns).get(0) : it);
        id.set(i, new Attribute.Embedded(embedded.name(), embedded.className(), parts));
      }
    }
  }

  /** The same attributes in other columns, as far as there are any. */
  private static List<Attribute> relocated(
      List<Attribute> attributes, Identifier table, List<Identifier> columns) {
    return relocated(attributes, table, columns.iterator());
  }

  private static List<Attribute> relocated(
      List<Attribute> attributes, Identifier table, Iterator<Identifier> columns) {
    List<Attribute> result = new ArrayList<>();
    for (Attribute attribute : attributes) {
      if (attribute instanceof Attribute.Basic basic && columns.hasNext()) {
        result.add(
            new Attribute.Basic(
                basic.name(), new MappedColumn(table, columns.next()), basic.type()));
      } else if (attribute instanceof Attribute.Embedded embedded) {
        result.add(
            new Attribute.Embedded(
                embedded.name(),
                embedded.className(),
                relocated(embedded.attributes(), table, columns)));
      } else if (attribute instanceof Attribute.ToOne one
          && one.link() instanceof Link.OwnColumns own) {
        List<ColumnPair> pairs = new ArrayList<>();
        for (ColumnPair pair : own.pairs()) {
          pairs.add(columns.hasNext() ? new ColumnPair(columns.next(), pair.referenced()) : pair);
        }
        result.add(
            new Attribute.ToOne(
                one.name(),
                one.target(),
                new Link.OwnColumns(table, pairs),
                one.optional(),
                one.nullable(),
                one.mayDangle(),
                one.fetching()));
      } else {
        result.add(attribute);
      }
    }
    return result;
  }
}
