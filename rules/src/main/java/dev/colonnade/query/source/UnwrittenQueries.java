package dev.colonnade.query.source;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Attribute.ToMany;
import dev.colonnade.mapping.Attribute.ToOne;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.JoinedTable;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.Restriction;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.jpql.SqlNames;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * The statements that an object-relational mapping sends without anybody having written them: a
 * collection or an inverse reference is loaded, a referenced row is loaded by its key, a row that
 * counts its changes is updated (Hibernate ORM user guide, "Fetching", "Collections", "Optimistic
 * locking").
 */
final class UnwrittenQueries {
  /** A statement in JPQL or, where entities alone cannot say it, in SQL. */
  record Unwritten(String text, boolean jpql) {}

  private static final String ROWS = "t";
  private static final String LINKS = "l";

  private final Mapping mapping;
  private final SqlNames names;

  UnwrittenQueries(Mapping mapping, String database) {
    this.mapping = mapping;
    this.names = new SqlNames(database);
  }

  /** The statements of one entity, by what follows its class in their id. */
  Map<String, Unwritten> of(Entity entity) {
    Map<String, Unwritten> result = new LinkedHashMap<>();
    Set<String> above = new TreeSet<>();
    entity
        .parent()
        .flatMap(mapping::ofClass)
        .ifPresent(parent -> parent.attributes().forEach(it -> above.add(it.name())));
    for (Attribute attribute : entity.attributes()) {
      if (!above.contains(attribute.name())) {
        load(entity, attribute).ifPresent(it -> result.put("." + attribute.name(), it));
      }
    }
    if (isReferenced(entity) && !entity.id().isEmpty()) {
      result.put(
          "#load", new Unwritten("select e from " + entity.name() + " e where id(e) = ?1", true));
    }
    boolean ofItsOwn =
        entity.inheritance() == Inheritance.TABLE_PER_CLASS
            ? !entity.isAbstract()
            : entity.version().filter(above::contains).isEmpty();
    if (ofItsOwn) {
      update(entity).ifPresent(it -> result.put("#update", it));
    }
    return result;
  }

  /** True when an attribute of some entity refers to this one by its key. */
  private boolean isReferenced(Entity entity) {
    return mapping.entities().stream()
        .flatMap(other -> other.attributes().stream())
        .anyMatch(
            attribute ->
                attribute instanceof ToOne one
                    && one.target().equals(entity.className())
                    && !(one.link() instanceof Link.Inverse));
  }

  private Optional<Unwritten> load(Entity owner, Attribute attribute) {
    if (attribute instanceof ToOne one && one.link() instanceof Link.Inverse inverse) {
      return mapping
          .ofClass(one.target())
          .flatMap(it -> inverse(owner, it, inverse, "", List.of()));
    }
    if (!(attribute instanceof ToMany many)) {
      return Optional.empty();
    }
    if (many.link() instanceof Link.Elements elements) {
      return Optional.of(elements(elements, many));
    }
    Optional<Entity> target = many.target().flatMap(mapping::ofClass);
    return target.flatMap(it -> entities(owner, it, many));
  }

  private Optional<Unwritten> entities(Entity owner, Entity target, ToMany many) {
    if (many.link() instanceof Link.Inverse inverse) {
      Optional<Attribute> back = target.attributeAt(inverse.mappedBy());
      if (back.isPresent()
          && back.get() instanceof ToMany other
          && other.link() instanceof Link.ThroughTable through) {
        return Optional.of(through(through.reversed(), target, many));
      }
      return inverse(owner, target, inverse, orderInJpql(many), many.restrictions());
    }
    if (many.link() instanceof Link.ThroughTable through) {
      return Optional.of(through(through, target, many));
    }
    if (many.link() instanceof Link.TargetColumns columns) {
      return Optional.of(
          new Unwritten(
              "select "
                  + ROWS
                  + ".*"
                  + supercolumns(target)
                  + " from "
                  + names.write(target.table())
                  + " "
                  + ROWS
                  + supertables(target)
                  + " where "
                  + bound(ROWS, columns.pairs())
                  + restrictions(target, many)
                  + order(many, target),
              false));
    }
    return Optional.empty();
  }

  /** By the foreign key in the target's own table. */
  private Optional<Unwritten> inverse(
      Entity owner,
      Entity target,
      Link.Inverse inverse,
      String order,
      List<Restriction> restrictions) {
    Optional<Attribute> back = target.attributeAt(inverse.mappedBy());
    if (back.isEmpty()
        || !(back.get() instanceof ToOne one)
        || !(one.link() instanceof Link.OwnColumns own)) {
      return Optional.empty();
    }
    boolean byKey =
        own.pairs().stream()
            .map(ColumnPair::referenced)
            .toList()
            .equals(owner.idColumns().stream().map(MappedColumn::name).toList());
    if (byKey && restrictions.isEmpty()) {
      return Optional.of(
          new Unwritten(
              "select t from "
                  + target.name()
                  + " t where fk(t."
                  + inverse.mappedBy()
                  + ") = ?1"
                  + order,
              true));
    }
    return Optional.of(
        new Unwritten(
            "select t.* from "
                + names.write(own.table())
                + " t where "
                + bound(ROWS, own.pairs())
                + conditions(restrictions)
                + conditions(target.restrictions()),
            false));
  }

  private Unwritten through(Link.ThroughTable through, Entity target, ToMany many) {
    StringBuilder sql =
        new StringBuilder("select t.*, l.*")
            .append(supercolumns(target))
            .append(" from ")
            .append(names.write(through.table()))
            .append(" l join ")
            .append(names.write(target.table()))
            .append(" t on ");
    for (int i = 0; i < through.toTarget().size(); i++) {
      ColumnPair pair = through.toTarget().get(i);
      sql.append(i == 0 ? "" : " and ")
          .append(column(ROWS, pair.referenced()))
          .append(" = ")
          .append(column(LINKS, pair.column()));
    }
    sql.append(supertables(target))
        .append(" where ")
        .append(bound(LINKS, through.toOwner()))
        .append(restrictions(target, many))
        .append(order(many, target));
    return new Unwritten(sql.toString(), false);
  }

  private Unwritten elements(Link.Elements elements, ToMany many) {
    return new Unwritten(
        "select t.* from "
            + names.write(elements.table())
            + " t where "
            + bound(ROWS, elements.toOwner())
            + conditions(many.restrictions()),
        false);
  }

  /** A row that counts its changes is only changed while the count is what was read. */
  private Optional<Unwritten> update(Entity entity) {
    Optional<Attribute> version = entity.version().flatMap(entity::attribute);
    if (version.isEmpty()
        || !(version.get() instanceof Attribute.Basic basic)
        || entity.idColumns().isEmpty()) {
      return Optional.empty();
    }
    Identifier table = basic.column().table();
    if (!table.equals(entity.table())) {
      return Optional.empty();
    }
    String count = names.write(basic.column().name());
    List<String> conditions = new ArrayList<>();
    for (MappedColumn id : entity.idColumns()) {
      conditions.add(names.write(id.name()) + " = ?");
    }
    conditions.add(count + " = ?");
    return Optional.of(
        new Unwritten(
            "update "
                + names.write(table)
                + " set "
                + count
                + " = ? where "
                + String.join(" and ", conditions),
            false));
  }

  /** What is read of further tables of the target, besides its own and that between. */
  private static String supercolumns(Entity target) {
    StringBuilder columns = new StringBuilder();
    for (int i = 1; i <= target.joinedTables().size(); i++) {
      columns.append(", s").append(i).append(".*");
    }
    return columns.toString();
  }

  private String supertables(Entity target) {
    StringBuilder joins = new StringBuilder();
    int number = 0;
    for (JoinedTable joined : target.joinedTables()) {
      String alias = "s" + ++number;
      joins
          .append(joined.optional() ? " left join " : " join ")
          .append(names.write(joined.table()))
          .append(" ")
          .append(alias)
          .append(" on ");
      for (int i = 0; i < joined.pairs().size(); i++) {
        ColumnPair pair = joined.pairs().get(i);
        joins
            .append(i == 0 ? "" : " and ")
            .append(column(alias, pair.column()))
            .append(" = ")
            .append(column(ROWS, pair.referenced()));
      }
    }
    return joins.toString();
  }

  private String restrictions(Entity target, ToMany many) {
    return conditions(many.restrictions()) + conditions(target.restrictions());
  }

  private static String conditions(List<Restriction> restrictions) {
    StringBuilder text = new StringBuilder();
    restrictions.forEach(it -> text.append(" and (").append(it.on(ROWS)).append(")"));
    return text.toString();
  }

  private String bound(String alias, List<ColumnPair> pairs) {
    List<String> conditions = new ArrayList<>();
    pairs.forEach(pair -> conditions.add(column(alias, pair.column()) + " = ?"));
    return String.join(" and ", conditions);
  }

  private String column(String alias, Identifier name) {
    return alias + "." + names.write(name);
  }

  private static String orderInJpql(ToMany many) {
    if (many.orderBy().isEmpty()) {
      return "";
    }
    List<String> items = new ArrayList<>();
    for (String item : many.orderBy().get().split(",", -1)) {
      items.add(item.isBlank() ? "id(t)" : "t." + item.strip());
    }
    return " order by " + String.join(", ", items);
  }

  /** The order in columns; empty where it names what is no plain attribute. */
  private String order(ToMany many, Entity target) {
    if (many.orderBy().isEmpty()) {
      return "";
    }
    List<String> items = new ArrayList<>();
    for (String item : many.orderBy().get().split(",", -1)) {
      if (item.isBlank()) {
        target.idColumns().forEach(it -> items.add(column(ROWS, it.name())));
        continue;
      }
      String[] words = item.strip().split("\\s+", 2);
      Optional<Attribute> attribute = target.attributeAt(words[0]);
      if (attribute.isEmpty() || !(attribute.get() instanceof Attribute.Basic basic)) {
        return "";
      }
      items.add(column(ROWS, basic.column().name()) + (words.length > 1 ? " " + words[1] : ""));
    }
    return " order by " + String.join(", ", items);
  }
}
