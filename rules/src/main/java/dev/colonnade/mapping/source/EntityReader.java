package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Discriminator;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.JoinedTable;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.Restriction;
import dev.colonnade.mapping.source.AttributeReader.Place;
import dev.colonnade.mapping.source.EntityClass.Layer;
import dev.colonnade.predicate.Identifier;
import java.lang.reflect.Modifier;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.ClassInfo;

/** Puts entities together. */
final class EntityReader {
  private final Reading reading;
  private final IdentifierReader identifiers;

  EntityReader(Reading reading) {
    this.reading = reading;
    this.identifiers = new IdentifierReader(reading);
  }

  Entity read(EntityClass entity) {
    List<Attribute> id = identifiers.id(entity);
    if (id.isEmpty()) {
      reading.problem(entity, "it has no identifier that can be read");
    }
    return new Entity(
        entity.name,
        entity.className(),
        Modifier.isAbstract(entity.type.flags()),
        entity.table(),
        joinedTables(entity),
        Marks.text(Marks.find(entity.type, "Subselect"), "value"),
        entity.parent.map(EntityClass::className),
        entity.inheritance,
        discriminator(entity),
        id,
        version(entity),
        attributes(entity, id),
        restrictions(entity),
        new UpkeepReader(reading).entity(entity),
        entity.location);
  }

  private List<Attribute> attributes(EntityClass entity, List<Attribute> id) {
    Map<String, Attribute> result = new LinkedHashMap<>();
    id.forEach(attribute -> result.put(attribute.name(), attribute));
    for (Layer layer : entity.layers) {
      Place place = IdentifierReader.place(entity, layer);
      for (Member member : Members.of(layer.type(), entity.access, layer.arguments())) {
        if (!member.isId()) {
          identifiers
              .attributes()
              .read(member, place)
              .ifPresent(attribute -> result.put(attribute.name(), attribute));
        }
      }
    }
    return new ArrayList<>(result.values());
  }

  private static Optional<String> version(EntityClass entity) {
    return entity.layers.stream()
        .flatMap(layer -> Members.of(layer.type(), entity.access, layer.arguments()).stream())
        .filter(member -> Marks.has(member.target(), "Version"))
        .map(Member::name)
        .findFirst();
  }

  private List<JoinedTable> joinedTables(EntityClass entity) {
    List<JoinedTable> result = new ArrayList<>();
    List<Identifier> own = identifiers.columns(entity);
    if (entity.inheritance == Inheritance.JOINED) {
      for (EntityClass above = entity.parent.orElse(null);
          above != null;
          above = above.parent.orElse(null)) {
        result.add(
            0, new JoinedTable(above.table(), pairs(identifiers.columns(above), own), false));
      }
    }
    for (Layer layer : entity.layers) {
      for (AnnotationInstance secondary :
          Marks.all(layer.type(), "SecondaryTable", "SecondaryTables")) {
        Optional<String> name = Marks.text(secondary, "name");
        if (name.isPresent()) {
          List<AnnotationInstance> columns = Marks.nested(secondary, "pkJoinColumns");
          List<Identifier> given = new ArrayList<>(own);
          for (int i = 0; i < Math.min(columns.size(), given.size()); i++) {
            int place = i;
            Marks.text(columns.get(i), "name")
                .ifPresent(it -> given.set(place, reading.names.physical(it)));
          }
          result.add(
              new JoinedTable(
                  reading.names.table(name.get(), Optional.of(secondary)),
                  pairs(given, own),
                  true));
        }
      }
    }
    return result;
  }

  private static List<ColumnPair> pairs(List<Identifier> columns, List<Identifier> referenced) {
    List<ColumnPair> pairs = new ArrayList<>();
    for (int i = 0; i < Math.min(columns.size(), referenced.size()); i++) {
      pairs.add(new ColumnPair(columns.get(i), referenced.get(i)));
    }
    return pairs;
  }

  /**
   * The discriminator: of a single table always, of joined tables where one is declared (Hibernate
   * ORM user guide, "Joined table": none is needed).
   */
  private Optional<Discriminator> discriminator(EntityClass entity) {
    ClassInfo root = entity.root().type;
    Optional<AnnotationInstance> column = Marks.find(root, "DiscriminatorColumn");
    boolean has =
        switch (entity.inheritance) {
          case SINGLE_TABLE -> true;
          case JOINED -> column.isPresent();
          case NONE, TABLE_PER_CLASS -> false;
        };
    if (!has) {
      return Optional.empty();
    }
    Optional<AnnotationInstance> formula = Marks.find(root, "DiscriminatorFormula");
    if (formula.isPresent() && Marks.text(formula, "value").isEmpty()) {
      reading.problem(entity, "its discriminator is a formula, which is not read");
    }
    boolean numeric =
        column
            .or(() -> formula)
            .flatMap(it -> Marks.constant(it, "discriminatorType"))
            .filter(it -> it.equals("INTEGER"))
            .isPresent();
    Optional<String> value =
        Marks.text(Marks.find(entity.type, "DiscriminatorValue"), "value")
            .or(() -> numeric ? Optional.<String>empty() : Optional.of(entity.name));
    Identifier name = reading.names.physical(Marks.text(column, "name").orElse("DTYPE"));
    boolean isAbstract = Modifier.isAbstract(entity.type.flags());
    return Optional.of(
        new Discriminator(
            new MappedColumn(entity.root().ownTable, name),
            Marks.text(formula, "value").map(it -> SqlFragments.read(it, isInHierarchy(entity))),
            numeric,
            isAbstract ? Optional.empty() : value));
  }

  private Predicate<Identifier> isInHierarchy(EntityClass entity) {
    return name -> reading.mayHaveColumn(entity.root().ownTable, name);
  }

  private List<Restriction> restrictions(EntityClass entity) {
    List<Restriction> result = new ArrayList<>();
    for (Layer layer : entity.layers) {
      Identifier table = entity.tableOf(layer);
      result.addAll(Restrictions.of(layer.type(), name -> reading.mayHaveColumn(table, name)));
    }
    return result;
  }
}
