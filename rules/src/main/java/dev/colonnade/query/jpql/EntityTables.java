package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Discriminator;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Filter;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.Restriction;
import dev.colonnade.mapping.SoftDelete;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Where the rows of an entity are, and which of a table's rows are its own. */
final class EntityTables {
  /** Under tables per class: the column that numbers the class of a row. */
  static final String CLASS_NUMBER = "clazz_";

  private final Statement statement;

  EntityTables(Statement statement) {
    this.statement = statement;
  }

  /** The table, the query in its place, or the union of the tables of the concrete classes. */
  String from(Entity entity) {
    if (entity.subselect().isPresent()) {
      return "(" + entity.subselect().get() + ")";
    }
    if (entity.inheritance() != Inheritance.TABLE_PER_CLASS
        || statement.mapping.subtypes(entity).isEmpty()) {
      return statement.names.write(entity.table());
    }
    return union(entity, statement.mapping.concreteTypes(entity));
  }

  /**
   * The union of the tables of some of the classes, in which classes are numbered as in that of
   * all.
   */
  String union(Entity entity, List<Entity> wanted) {
    List<Entity> types = statement.mapping.concreteTypes(entity);
    Set<Identifier> all = new LinkedHashSet<>();
    types.forEach(type -> all.addAll(columns(type)));
    List<String> selects = new ArrayList<>();
    for (int i = 0; i < types.size(); i++) {
      if (!wanted.contains(types.get(i))) {
        continue;
      }
      Set<Identifier> own = columns(types.get(i));
      List<String> items = new ArrayList<>();
      for (Identifier column : all) {
        String name = statement.names.write(column);
        items.add(own.contains(column) ? name : "null as " + name);
      }
      items.add(number(types.get(i)) + " as " + CLASS_NUMBER);
      selects.add(
          "select "
              + String.join(", ", items)
              + " from "
              + statement.names.write(types.get(i).table()));
    }
    return "(" + String.join(" union all ", selects) + ")";
  }

  /**
   * The number of a class under tables per class, counted from the class at the top (Hibernate ORM
   * 7.4 numbers them so).
   */
  int number(Entity type) {
    Entity top = statement.mapping.root(type);
    return type.equals(top) ? 0 : statement.mapping.subtypes(top).indexOf(type) + 1;
  }

  private static Set<Identifier> columns(Entity entity) {
    Set<Identifier> result = new LinkedHashSet<>();
    for (MappedColumn column : entity.idColumns()) {
      result.add(column.name());
    }
    for (MappedColumn column : Entity.columnsOf(entity.attributes())) {
      if (column.table().equals(entity.table())) {
        result.add(column.name());
      }
    }
    return result;
  }

  /** The conditions that every query of the entity gets. */
  List<String> conditions(EntityUse use) {
    List<String> result = new ArrayList<>();
    Entity entity = use.entity;
    if (entity.inheritance() == Inheritance.SINGLE_TABLE && entity.parent().isPresent()) {
      result.add(isOf(use, statement.mapping.concreteTypes(entity)));
    }
    for (Restriction restriction : entity.restrictions()) {
      result.add("(" + statement.words.condition(restriction.on(use.alias)) + ")");
    }
    entity.upkeep().softDelete().ifPresent(it -> result.add(live(use, it)));
    return result;
  }

  private String live(EntityUse use, SoftDelete soft) {
    String column = use.column(soft.column());
    String alias = column.substring(0, column.indexOf('.') + 1);
    return new RowChanges(statement).live(soft, alias);
  }

  /** That a row belongs to the tenant whose session it is. */
  List<String> ofTenant(EntityUse use) {
    return use.entity.upkeep().tenant().stream().map(it -> use.column(it) + " = ?").toList();
  }

  /** What is added to a query that starts at the entity: its tenant, and filters that are on. */
  List<String> ofSession(EntityUse use) {
    List<String> result = new ArrayList<>(ofTenant(use));
    result.addAll(filters(use.entity.upkeep().filters(), use.alias));
    return result;
  }

  /** The conditions of those filters that are on. */
  List<String> filters(List<Filter> filters, String alias) {
    List<String> result = new ArrayList<>();
    for (Filter filter : filters) {
      if (statement.isOn(filter)) {
        result.add("(" + statement.words.condition(filter.condition().on(alias)) + ")");
      }
    }
    return result;
  }

  /** That a row is of one of the classes, by the discriminator. */
  String isOf(EntityUse use, List<Entity> types) {
    Discriminator discriminator = use.entity.discriminator().orElseThrow();
    List<String> values = types.stream().map(this::discriminatorValue).toList();
    String column = use.discriminator(discriminator);
    return values.size() == 1
        ? column + " = " + values.get(0)
        : column + " in (" + String.join(", ", values) + ")";
  }

  /** What the discriminator holds for the class. */
  String discriminatorValue(Entity type) {
    Optional<String> value = type.discriminator().flatMap(Discriminator::value);
    if (value.isEmpty()) {
      throw new UntranslatableException(
          "the discriminator's value for " + type.name() + " is not known", 0, 0);
    }
    return type.discriminator().get().numeric()
        ? value.get()
        : "'" + value.get().replace("'", "''") + "'";
  }
}
