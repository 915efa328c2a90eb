package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.source.AttributeReader.Place;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.Type;

/** Reads references and collections. */
final class AssociationReader {
  private final Reading reading;
  private final IdentifierReader identifiers;
  private final AttributeReader attributes;
  private final MapKeys mapKeys;
  private final UpkeepReader upkeep;

  AssociationReader(Reading reading, IdentifierReader identifiers, AttributeReader attributes) {
    this.reading = reading;
    this.identifiers = identifiers;
    this.attributes = attributes;
    this.mapKeys = new MapKeys(reading, attributes, identifiers);
    this.upkeep = new UpkeepReader(reading);
  }

  /** A reference to one entity. */
  Optional<Attribute> toOne(Member member, Place place) {
    AnnotationInstance annotation =
        Marks.find(member.target(), "ManyToOne")
            .or(() -> Marks.find(member.target(), "OneToOne"))
            .orElseThrow();
    Optional<EntityClass> target =
        target(member, place, Marks.type(annotation, "targetEntity").orElse(member.className()));
    if (target.isEmpty()) {
      return Optional.empty();
    }
    boolean optional = !isDenied(annotation, "optional");
    return Optional.of(
        new Attribute.ToOne(
            member.name(),
            target.get().className(),
            link(member, annotation, place, target.get()),
            optional,
            optional && columns(member, place).stream().noneMatch(it -> isDenied(it, "nullable")),
            Marks.has(member.target(), "NotFound"),
            upkeep.fetching(member, annotation)));
  }

  private static boolean isDenied(AnnotationInstance annotation, String attribute) {
    return annotation.value(attribute) != null && !annotation.value(attribute).asBoolean();
  }

  /** The columns of a reference that are written down, at its owner or where it is. */
  private static List<AnnotationInstance> columns(Member member, Place place) {
    List<AnnotationInstance> overridden = place.overrides().joinColumns(member.name());
    return overridden.isEmpty() ? joinColumns(member) : overridden;
  }

  /** True for a formula that is one of several parts of a key, or that is not known. */
  static boolean hasUnreadFormula(Member member) {
    Optional<AnnotationInstance> formula = Marks.find(member.target(), "JoinFormula");
    boolean unknown = formula.isPresent() && Marks.text(formula, "value").isEmpty();
    return unknown
        || columnsOrFormulas(member).stream().anyMatch(it -> it.value("formula") != null);
  }

  private static List<AnnotationInstance> columnsOrFormulas(Member member) {
    return Marks.all(member.target(), "JoinColumnOrFormula", "JoinColumnsOrFormulas");
  }

  private static List<AnnotationInstance> joinColumns(Member member) {
    List<AnnotationInstance> written = new ArrayList<>();
    columnsOrFormulas(member).forEach(it -> written.add(it.value("column").asNested()));
    return written.isEmpty() ? Marks.all(member.target(), "JoinColumn", "JoinColumns") : written;
  }

  private Link byFormula(AnnotationInstance formula, Place place, EntityClass target) {
    Optional<Identifier> written =
        Marks.text(formula, "referencedColumnName").map(reading.names::physical);
    List<Identifier> ids = identifiers.columns(target);
    return new Link.ByFormula(
        SqlFragments.read(
            Marks.text(formula, "value").orElseThrow(),
            name -> reading.mayHaveColumn(place.table(), name)),
        written.orElseGet(() -> ids.isEmpty() ? new Identifier("id") : ids.get(0)));
  }

  private Link link(Member member, AnnotationInstance annotation, Place place, EntityClass target) {
    Optional<String> mappedBy = Marks.text(annotation, "mappedBy");
    if (mappedBy.isPresent()) {
      return new Link.Inverse(mappedBy.get());
    }
    Optional<AnnotationInstance> formula = Marks.find(member.target(), "JoinFormula");
    if (formula.isPresent()) {
      return byFormula(formula.get(), place, target);
    }
    Optional<AnnotationInstance> joinTable = Marks.find(member.target(), "JoinTable");
    if (joinTable.isPresent()) {
      return through(member, joinTable, place, target, Optional.empty());
    }
    if (Marks.hasAny(member.target(), "PrimaryKeyJoinColumn", "PrimaryKeyJoinColumns")) {
      return new Link.OwnColumns(place.table(), byPrimaryKey(place.entity(), target));
    }
    List<AnnotationInstance> columns = columns(member, place);
    Identifier table =
        columns.isEmpty()
            ? place.table()
            : Marks.text(columns.get(0), "table")
                .map(it -> reading.tableOf(place.entity(), it))
                .orElse(place.table());
    return new Link.OwnColumns(table, pairs(columns, member.name(), target));
  }

  private List<ColumnPair> byPrimaryKey(EntityClass owner, EntityClass target) {
    List<Identifier> own = identifiers.columns(owner);
    List<Identifier> other = identifiers.columns(target);
    List<ColumnPair> pairs = new ArrayList<>();
    for (int i = 0; i < Math.min(own.size(), other.size()); i++) {
      pairs.add(new ColumnPair(own.get(i), other.get(i)));
    }
    return pairs;
  }

  /** Join columns as given, in their absence {@code prefix_column} for each identifier column. */
  private List<ColumnPair> pairs(
      List<AnnotationInstance> given, String prefix, EntityClass target) {
    List<Identifier> ids = identifiers.columns(target);
    List<ColumnPair> pairs = new ArrayList<>();
    for (int i = 0; i < Math.max(ids.size(), given.size()); i++) {
      Optional<AnnotationInstance> column =
          i < given.size() ? Optional.of(given.get(i)) : Optional.empty();
      Optional<Identifier> written =
          Marks.text(column, "referencedColumnName").map(reading.names::physical);
      if (written.isEmpty() && i >= ids.size()) {
        continue;
      }
      Identifier referenced =
          written.orElseGet(() -> ids.get(Math.min(pairs.size(), ids.size() - 1)));
      String name = Marks.text(column, "name").orElseGet(() -> prefix + "_" + referenced.text());
      pairs.add(new ColumnPair(reading.names.physical(name), referenced));
      if (!given.isEmpty() && given.size() < ids.size() && i == given.size() - 1) {
        break;
      }
    }
    return pairs;
  }

  /**
   * Columns that refer to the owner of a collection: named after the entity that declares it,
   * leading to the identifier in the table of the entity that is read.
   */
  private List<ColumnPair> toOwner(List<AnnotationInstance> given, String prefix, Place place) {
    List<Identifier> declared = identifiers.columns(place.declaring());
    List<Identifier> own = identifiers.columns(place.entity());
    return pairs(given, prefix, place.declaring()).stream()
        .map(
            pair -> {
              int at = declared.indexOf(pair.referenced());
              return at >= 0 && at < own.size() ? new ColumnPair(pair.column(), own.get(at)) : pair;
            })
        .toList();
  }

  /** A collection of entities. */
  Optional<Attribute> toMany(Member member, Place place) {
    boolean oneToMany = Marks.has(member.target(), "OneToMany");
    AnnotationInstance annotation =
        Marks.find(member.target(), oneToMany ? "OneToMany" : "ManyToMany").orElseThrow();
    Optional<String> element =
        Marks.type(annotation, "targetEntity")
            .or(() -> elementType(member).map(TypeArguments::className));
    Optional<EntityClass> target = target(member, place, element.orElse("an unknown class"));
    if (target.isEmpty()) {
      return Optional.empty();
    }
    Link link = collectionLink(member, annotation, oneToMany, place, target.get());
    Identifier keyTable =
        link instanceof Link.ThroughTable through ? through.table() : target.get().table();
    return Optional.of(collection(member, annotation, place, target, link, keyTable));
  }

  private Link collectionLink(
      Member member,
      AnnotationInstance annotation,
      boolean oneToMany,
      Place place,
      EntityClass target) {
    Optional<String> mappedBy = Marks.text(annotation, "mappedBy");
    if (mappedBy.isPresent()) {
      return new Link.Inverse(mappedBy.get());
    }
    Optional<AnnotationInstance> joinTable = Marks.find(member.target(), "JoinTable");
    List<AnnotationInstance> columns = Marks.all(member.target(), "JoinColumn", "JoinColumns");
    if (oneToMany && joinTable.isEmpty() && !columns.isEmpty()) {
      return new Link.TargetColumns(toOwner(columns, member.name(), place));
    }
    return through(member, joinTable, place, target, inverseOf(member, place, target));
  }

  /** The collection of the target that says it is mapped by the member. */
  private Optional<String> inverseOf(Member member, Place place, EntityClass target) {
    for (EntityClass.Layer layer : target.layers) {
      for (Member candidate : Members.of(layer.type(), target.access, layer.arguments())) {
        if (Marks.text(Marks.find(candidate.target(), "ManyToMany"), "mappedBy")
                .filter(member.name()::equals)
                .isPresent()
            && elementType(candidate)
                .filter(type -> TypeArguments.className(type).equals(place.entity().className()))
                .isPresent()) {
          return Optional.of(candidate.name());
        }
      }
    }
    return Optional.empty();
  }

  private Link through(
      Member member,
      Optional<AnnotationInstance> joinTable,
      Place place,
      EntityClass target,
      Optional<String> inverse) {
    Identifier table =
        Marks.text(joinTable, "name")
            .map(it -> reading.names.table(it, joinTable))
            .orElseGet(() -> defaultJoinTable(member, place.declaring(), target, joinTable));
    List<AnnotationInstance> toOwner =
        joinTable.map(it -> Marks.nested(it, "joinColumns")).orElse(List.of());
    if (toOwner.isEmpty() && !Marks.hasAny(member.target(), "ManyToOne", "OneToOne")) {
      toOwner = Marks.all(member.target(), "JoinColumn", "JoinColumns");
    }
    List<AnnotationInstance> toTarget =
        joinTable.map(it -> Marks.nested(it, "inverseJoinColumns")).orElse(List.of());
    return new Link.ThroughTable(
        table,
        toOwner(toOwner, inverse.orElse(place.declaring().name), place),
        pairs(toTarget, member.name(), target));
  }

  /** Owner's table and target's table; under Spring's strategy owner's table and attribute. */
  private Identifier defaultJoinTable(
      Member member, EntityClass owner, EntityClass target, Optional<AnnotationInstance> mark) {
    Identifier first = owner.table().unqualified();
    return switch (reading.names.strategy()) {
      case JPA -> reading.names.table(first + "_" + target.table().unqualified(), mark);
      case SNAKE_CASE -> reading.names.table(first + "_" + member.name(), mark);
    };
  }

  /** A collection of values. */
  Optional<Attribute> elements(Member member, Place place) {
    Optional<AnnotationInstance> collectionTable = Marks.find(member.target(), "CollectionTable");
    EntityClass owner = place.declaring();
    Identifier table =
        reading.names.table(
            Marks.text(collectionTable, "name").orElse(owner.name + "_" + member.name()),
            collectionTable);
    List<AnnotationInstance> joinColumns =
        collectionTable.map(it -> Marks.nested(it, "joinColumns")).orElse(List.of());
    if (joinColumns.isEmpty()) {
      joinColumns = Marks.all(member.target(), "JoinColumn", "JoinColumns");
    }
    Optional<Type> type =
        Marks.find(member.target(), "ElementCollection")
            .flatMap(it -> Marks.classType(it, "targetClass"))
            .or(() -> elementType(member));
    if (type.isEmpty()) {
      reading.problem(owner, "attribute " + member.name() + " has elements of an unknown class");
      return Optional.empty();
    }
    Member element = new Member(member.name(), type.get(), member.target(), member.arguments());
    Place inTable =
        new Place(
            place.entity(),
            owner,
            table,
            place.access(),
            place.overrides().inside(member.name()).and(member.target()));
    Optional<ClassInfo> embeddable = attributes.embeddable(element);
    Attribute read =
        embeddable.isPresent()
            ? new Attribute.Embedded(
                member.name(),
                element.className(),
                attributes.attributesOf(embeddable.get(), element, inTable, 1))
            : attributes.basic(member.name(), element, inTable);
    Link link = new Link.Elements(table, toOwner(joinColumns, owner.name, place), read);
    AnnotationInstance annotation = Marks.find(member.target(), "ElementCollection").orElseThrow();
    return Optional.of(collection(member, annotation, place, Optional.empty(), link, table));
  }

  private Attribute collection(
      Member member,
      AnnotationInstance annotation,
      Place place,
      Optional<EntityClass> target,
      Link link,
      Identifier keyTable) {
    Identifier elements = target.map(EntityClass::table).orElse(keyTable);
    Optional<String> orderBy =
        UpkeepReader.sqlOrder(member.target()).isPresent()
            ? Optional.empty()
            : Marks.find(member.target(), "OrderBy").map(it -> Marks.text(it, "value").orElse(""));
    Optional<MappedColumn> index =
        Marks.find(member.target(), "OrderColumn")
            .map(it -> Marks.text(it, "name").orElse(member.name() + "_ORDER"))
            .map(name -> new MappedColumn(keyTable, reading.names.physical(name)));
    return new Attribute.ToMany(
        member.name(),
        target.map(EntityClass::className),
        link,
        mapKeys.read(member, place, keyTable),
        index,
        orderBy,
        Restrictions.of(member.target(), name -> reading.mayHaveColumn(elements, name)),
        upkeep.collection(member, annotation, elements, keyTable));
  }

  private Optional<EntityClass> target(Member member, Place place, String className) {
    Optional<EntityClass> found = reading.entity(className);
    if (found.isEmpty()) {
      reading.problem(
          place.entity(),
          "attribute " + member.name() + " refers to " + className + ", which is no entity here");
    }
    return found;
  }

  /** The type of a collection's elements; of a map's values. */
  private static Optional<Type> elementType(Member member) {
    int place = MapKeys.isMap(member) ? 1 : 0;
    return member.arguments().argument(member.type(), place);
  }
}
