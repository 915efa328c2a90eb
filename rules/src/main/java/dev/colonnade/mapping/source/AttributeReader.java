package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.ValueType;
import dev.colonnade.mapping.ValueType.Storage;
import dev.colonnade.mapping.source.Members.Access;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;

/** Turns persistent members into attributes. */
final class AttributeReader {
  /**
   * Where members are read.
   *
   * @param entity the entity they end up in
   * @param declaring the entity that declares them, itself or by a mapped superclass
   * @param table the table of their columns unless they say another
   * @param access the access of embeddable classes that say nothing
   * @param overrides columns given from outside
   */
  record Place(
      EntityClass entity,
      EntityClass declaring,
      Identifier table,
      Access access,
      Overrides overrides) {
    Place inside(Member embedded) {
      return new Place(
          entity,
          declaring,
          table,
          access,
          overrides.inside(embedded.name()).and(embedded.target()));
    }
  }

  private static final int NESTING = 8;

  private final Reading reading;
  private final AssociationReader associations;

  AttributeReader(Reading reading, IdentifierReader identifiers) {
    this.reading = reading;
    this.associations = new AssociationReader(reading, identifiers, this);
  }

  /** The attribute; empty, with a problem noted, where it is of a kind that is not read. */
  Optional<Attribute> read(Member member, Place place) {
    return read(member, place, 0);
  }

  private Optional<Attribute> read(Member member, Place place, int depth) {
    if (Marks.has(member.target(), "Any")) {
      return ofAnyClass(member, place);
    }
    if (Marks.has(member.target(), "ManyToAny") || AssociationReader.hasUnreadFormula(member)) {
      return unread(member, place);
    }
    if (Marks.hasAny(member.target(), "ManyToOne", "OneToOne")) {
      return associations.toOne(member, place);
    }
    if (Marks.hasAny(member.target(), "OneToMany", "ManyToMany")) {
      return associations.toMany(member, place);
    }
    if (Marks.has(member.target(), "ElementCollection")) {
      return associations.elements(member, place);
    }
    Optional<String> formula = Marks.text(Marks.find(member.target(), "Formula"), "value");
    if (formula.isPresent()) {
      return Optional.of(
          new Attribute.Formula(
              member.name(),
              SqlFragments.read(
                  formula.get(), name -> reading.mayHaveColumn(place.table(), name))));
    }
    Optional<ClassInfo> embeddable = embeddable(member);
    if (embeddable.isPresent()) {
      return embedded(member, embeddable.get(), place, depth);
    }
    return Optional.of(basic(member.name(), member, place));
  }

  private Optional<Attribute> unread(Member member, Place place) {
    reading.problem(
        place.entity(), "attribute " + member.name() + " is of a kind that is not read");
    return Optional.empty();
  }

  /**
   * A reference to an entity of any class: its columns are the class and the key (Hibernate ORM
   * user guide, "@Any mapping").
   */
  private Optional<Attribute> ofAnyClass(Member member, Place place) {
    Optional<String> kind = Marks.text(Marks.find(member.target(), "Column"), "name");
    List<AnnotationInstance> keys = Marks.all(member.target(), "JoinColumn", "JoinColumns");
    Optional<String> key =
        keys.size() == 1 ? Marks.text(keys.get(0), "name") : Optional.<String>empty();
    if (kind.isEmpty() || key.isEmpty()) {
      return unread(member, place);
    }
    Optional<String> fetch =
        Marks.find(member.target(), "Any").flatMap(it -> Marks.constant(it, "fetch"));
    if (!fetch.equals(Optional.of("LAZY"))) {
      reading.problem(
          place.entity(), "what attribute " + member.name() + " refers to is read at once, unseen");
    }
    return Optional.of(
        new Attribute.Embedded(
            member.name(),
            member.className(),
            List.of(
                inColumn("class", "java.lang.String", kind.get(), place),
                inColumn("id", "java.lang.Object", key.get(), place))));
  }

  private Attribute inColumn(String name, String javaType, String column, Place place) {
    return new Attribute.Basic(
        name,
        new MappedColumn(place.table(), reading.names.physical(column)),
        new ValueType(javaType, Storage.CONVERTED));
  }

  /** The class of an embedded attribute. */
  Optional<ClassInfo> embeddable(Member member) {
    return reading
        .classOf(member.className())
        .filter(
            type ->
                Marks.has(type, "Embeddable")
                    || Marks.hasAny(member.target(), "Embedded", "EmbeddedId"));
  }

  private Optional<Attribute> embedded(Member member, ClassInfo type, Place place, int depth) {
    if (depth > NESTING) {
      reading.problem(place.entity(), "attribute " + member.name() + " contains itself");
      return Optional.empty();
    }
    return Optional.of(
        new Attribute.Embedded(
            member.name(),
            type.name().toString(),
            attributesOf(type, member, place.inside(member), depth + 1)));
  }

  /** The attributes of an embeddable class. */
  List<Attribute> attributesOf(ClassInfo type, Member member, Place place, int depth) {
    List<Attribute> result = new ArrayList<>();
    if (type.superClassType() != null) {
      reading
          .classOf(type.superClassType().name().toString())
          .filter(parent -> Marks.hasAny(parent, "Embeddable", "MappedSuperclass"))
          .ifPresent(parent -> result.addAll(attributesOf(parent, member, place, depth)));
    }
    TypeArguments arguments = member.arguments().ofSuperclass(type, member.type());
    for (Member inner : Members.of(type, place.access(), arguments)) {
      read(inner, place, depth).ifPresent(result::add);
    }
    return result;
  }

  /** A value in a column of its own. */
  Attribute.Basic basic(String name, Member member, Place place) {
    Optional<AnnotationInstance> column =
        place.overrides().column(name).or(() -> Marks.find(member.target(), "Column"));
    Identifier table =
        Marks.text(column, "table")
            .map(it -> reading.tableOf(place.entity(), it))
            .orElse(place.table());
    Identifier physical = reading.names.physical(Marks.text(column, "name").orElse(member.name()));
    return new Attribute.Basic(
        name,
        new MappedColumn(table, physical),
        valueType(member, member.className(), "Enumerated"));
  }

  /** What a column of the member holds. */
  ValueType valueType(Member member, String className, String enumerated) {
    Storage storage = Storage.PLAIN;
    if (isConverted(member, className)) {
      storage = converted(member);
    } else if (reading.isEnum(className)) {
      storage =
          Marks.find(member.target(), enumerated)
              .flatMap(it -> Marks.constant(it, "value"))
              .filter(it -> it.equals("STRING"))
              .map(it -> Storage.ENUM_NAME)
              .orElse(Storage.ENUM_ORDINAL);
      storage = Marks.has(member.target(), "JdbcTypeCode") ? Storage.CONVERTED : storage;
    }
    return new ValueType(className, storage);
  }

  /** Of the converters those that come with Hibernate are known. */
  private static Storage converted(Member member) {
    String converter =
        Marks.find(member.target(), "Convert")
            .flatMap(it -> Marks.type(it, "converter"))
            .orElse("");
    return switch (converter) {
      case "org.hibernate.type.YesNoConverter" -> Storage.YES_NO;
      case "org.hibernate.type.TrueFalseConverter" -> Storage.TRUE_FALSE;
      case "org.hibernate.type.NumericBooleanConverter" -> Storage.ONE_ZERO;
      default -> Storage.CONVERTED;
    };
  }

  private boolean isConverted(Member member, String className) {
    Optional<AnnotationInstance> convert = Marks.find(member.target(), "Convert");
    if (convert.isPresent()) {
      AnnotationValue disabled = convert.get().value("disableConversion");
      return disabled == null || !disabled.asBoolean();
    }
    return Marks.has(member.target(), "Type") || reading.convertedTypes.contains(className);
  }
}
