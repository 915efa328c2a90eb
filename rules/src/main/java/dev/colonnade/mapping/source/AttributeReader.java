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
    if (Marks.hasAny(member.target(), "Any", "ManyToAny")
        || AssociationReader.hasUnreadFormula(member)) {
      reading.problem(
          place.entity(), "attribute " + member.name() + " is of a kind that is not read");
      return Optional.empty();
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
