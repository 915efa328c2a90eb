package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.CollectionTraits;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Fetching;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.source.RelationalTypes.Shape;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The columns of a part's table that its class does not speak of: those that lead to its owner. */
final class PartKeys {
  /** Attributes that no class has: a part's columns that lead back to its owner. */
  private static final String BACK = "$owner";

  private static final String READ_BY = "$reader";
  private static final String KEY = "$key";
  private final RelationalMarks marks;
  private final RelationalTypes types;

  PartKeys(RelationalMarks marks, RelationalTypes types) {
    this.marks = marks;
    this.types = types;
  }

  /** The columns that hold the owner's identifier: as written, else called like its table. */
  List<Attribute.Basic> back(
      RelationalProperty property, AggregateOwner part, AggregateOwner identified) {
    List<MappedColumn> ids = Entity.columnsOf(identified.id);
    String written =
        Marks.text(marks.find(property.targets(), RelationalMarks.COLLECTION), "idColumn")
            .or(() -> Marks.text(marks.find(property.targets(), RelationalMarks.COLUMN), "value"))
            .orElseGet(() -> identified.table.unqualified().text());
    List<Attribute.Basic> result = new ArrayList<>();
    for (int i = 0; i < ids.size(); i++) {
      String column = ids.size() == 1 ? written : written + "_" + ids.get(i).name().text();
      result.add(
          new Attribute.Basic(
              BACK + (i + 1),
              new MappedColumn(part.table, new Identifier(column)),
              types.valueType(Object.class.getName())));
    }
    return result;
  }

  Attribute.Basic key(RelationalProperty property, AggregateOwner part, Shape.Many many) {
    String column =
        Marks.text(marks.find(property.targets(), RelationalMarks.COLLECTION), "keyColumn")
            .orElseGet(() -> part.above.orElseThrow().table.unqualified().text() + "_key");
    return new Attribute.Basic(
        KEY,
        new MappedColumn(part.table, new Identifier(column)),
        types.valueType(many.key().orElse("java.lang.Integer")));
  }

  /**
   * The columns by which a part's rows are read: those that hold the owner's identifier; where the
   * owner has none of its own, columns called like those by which it was read itself, and its key.
   */
  static List<Attribute.Basic> readBy(
      AggregateOwner owner, AggregateOwner part, List<Attribute.Basic> back) {
    if (!owner.id.isEmpty() || owner.above.isEmpty()) {
      return back;
    }
    List<Attribute.Basic> above = new ArrayList<>(owner.readBy);
    owner.key.ifPresent(above::add);
    List<Attribute.Basic> result = new ArrayList<>();
    for (Attribute.Basic column : above) {
      MappedColumn own = new MappedColumn(part.table, column.column().name());
      result.add(
          back.stream()
              .filter(it -> it.column().equals(own))
              .findFirst()
              .orElse(new Attribute.Basic(READ_BY + (result.size() + 1), own, column.type())));
    }
    return result;
  }

  static Entity withKeys(Entity entity, List<Attribute.Basic> back, AggregateOwner part) {
    List<Attribute> keys = new ArrayList<>(back);
    part.readBy.stream().filter(it -> !keys.contains(it)).forEach(keys::add);
    part.key.ifPresent(keys::add);
    List<Attribute> attributes = new ArrayList<>(entity.attributes());
    attributes.addAll(keys);
    return new Entity(
        entity.name(),
        entity.className(),
        entity.isAbstract(),
        entity.table(),
        entity.joinedTables(),
        entity.subselect(),
        entity.parent(),
        entity.inheritance(),
        entity.discriminator(),
        entity.id().isEmpty() ? keys : entity.id(),
        entity.version(),
        attributes,
        entity.restrictions(),
        entity.upkeep(),
        entity.location());
  }

  static Attribute reference(
      RelationalProperty property,
      Entity target,
      List<Attribute.Basic> back,
      AggregateOwner identified,
      Optional<Shape.Many> many) {
    List<MappedColumn> ids = Entity.columnsOf(identified.id);
    List<ColumnPair> pairs = new ArrayList<>();
    for (int i = 0; i < back.size(); i++) {
      pairs.add(new ColumnPair(back.get(i).column().name(), ids.get(i).name()));
    }
    Link link = new Link.TargetColumns(pairs);
    Fetching fetching = new Fetching(true, Fetching.Style.SELECT, Fetching.Removal.WITH_OWNER);
    return many.isEmpty()
        ? new Attribute.ToOne(
            property.name(), target.className(), link, true, true, false, fetching)
        : new Attribute.ToMany(
            property.name(),
            Optional.of(target.className()),
            link,
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            List.of(),
            new CollectionTraits(
                false,
                fetching,
                List.of(),
                List.of(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty()));
  }
}
