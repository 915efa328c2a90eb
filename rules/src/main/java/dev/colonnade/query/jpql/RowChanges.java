package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Attribute.ToMany;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.JoinedTable;
import dev.colonnade.mapping.KeyTable;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.SoftDelete;
import dev.colonnade.mapping.Upkeep.Compared;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The statements by which an implementation changes single rows that it has read, and the rows of
 * collections (Hibernate ORM user guide, "Flushing", "Collections", "Optimistic locking").
 */
final class RowChanges {
  private final Statement statement;
  private final SqlNames names;

  RowChanges(Statement statement) {
    this.statement = statement;
    this.names = statement.names;
  }

  /** A table that the entity's class itself brings, and its columns that hold the identifier. */
  private record OwnTable(Identifier table, List<Identifier> key, boolean main) {}

  private List<OwnTable> tables(Entity entity) {
    List<OwnTable> result = new ArrayList<>();
    boolean shares =
        entity.inheritance() == Inheritance.SINGLE_TABLE && entity.parent().isPresent();
    boolean hasRows = entity.inheritance() != Inheritance.TABLE_PER_CLASS || !entity.isAbstract();
    if (!shares && hasRows && entity.subselect().isEmpty() && !entity.idColumns().isEmpty()) {
      result.add(
          new OwnTable(
              entity.table(), entity.idColumns().stream().map(MappedColumn::name).toList(), true));
    }
    List<JoinedTable> above =
        entity
            .parent()
            .flatMap(statement.mapping::ofClass)
            .map(Entity::joinedTables)
            .orElse(List.of());
    for (JoinedTable joined : entity.joinedTables()) {
      if (joined.optional() && above.stream().noneMatch(it -> it.table().equals(joined.table()))) {
        result.add(
            new OwnTable(
                joined.table(), joined.pairs().stream().map(ColumnPair::column).toList(), false));
      }
    }
    return result;
  }

  /** How a row is changed, in each table that the class brings. */
  List<String> update(Entity entity) {
    if (entity.upkeep().immutable()) {
      return List.of();
    }
    if (entity.upkeep().ownUpdate().isPresent()) {
      return List.of(entity.upkeep().ownUpdate().get());
    }
    List<String> result = new ArrayList<>();
    for (OwnTable table : tables(entity)) {
      Set<String> set = new LinkedHashSet<>();
      List<Attribute> attributes = new ArrayList<>(entity.attributes());
      if (entity.inheritance() == Inheritance.SINGLE_TABLE) {
        statement.mapping.subtypes(entity).forEach(it -> attributes.addAll(it.attributes()));
      }
      for (MappedColumn column : Entity.columnsOf(attributes)) {
        if (column.table().equals(table.table()) && !table.key().contains(column.name())) {
          set.add(names.write(column.name()) + " = ?");
        }
      }
      if (!set.isEmpty()) {
        result.add(
            "update "
                + names.write(table.table())
                + " set "
                + String.join(", ", set)
                + where(entity, table, entity.upkeep().compared() == Compared.ALL));
      }
    }
    return result;
  }

  /** How a row is deleted, from each table that the class brings, or marked as deleted. */
  List<String> delete(Entity entity) {
    if (entity.upkeep().ownDelete().isPresent()) {
      return List.of(entity.upkeep().ownDelete().get());
    }
    Optional<SoftDelete> soft = entity.upkeep().softDelete();
    boolean all = entity.upkeep().compared() != Compared.VERSION;
    List<String> result = new ArrayList<>();
    for (OwnTable table : tables(entity)) {
      if (soft.isEmpty()) {
        result.add("delete from " + names.write(table.table()) + where(entity, table, all));
      } else if (soft.get().column().table().equals(table.table())) {
        result.add(
            "update "
                + names.write(table.table())
                + " set "
                + gone(soft.get())
                + where(entity, table, all)
                + " and "
                + live(soft.get(), ""));
      }
    }
    return result;
  }

  private String where(Entity entity, OwnTable table, boolean all) {
    List<String> conditions = new ArrayList<>();
    table.key().forEach(it -> conditions.add(names.write(it) + " = ?"));
    if (table.main()) {
      boolean root =
          entity.parent().isEmpty() || entity.inheritance() == Inheritance.TABLE_PER_CLASS;
      Optional<MappedColumn> version =
          entity
              .version()
              .flatMap(entity::attribute)
              .flatMap(it -> Entity.columnsOf(List.of(it)).stream().findFirst());
      version
          .filter(it -> it.table().equals(table.table()))
          .ifPresent(it -> conditions.add(names.write(it.name()) + " = ?"));
      if (root) {
        entity
            .upkeep()
            .tenant()
            .map(it -> names.write(it.name()))
            .ifPresent(it -> conditions.add(it + " = coalesce(?, " + it + ")"));
        entity
            .upkeep()
            .partitionKeys()
            .forEach(it -> conditions.add(names.write(it.name()) + " = ?"));
      }
      if (all) {
        Entity.columnsOf(entity.attributes()).stream()
            .filter(it -> it.table().equals(table.table()) && !table.key().contains(it.name()))
            .forEach(it -> conditions.add(names.write(it.name()) + " = ?"));
      }
    }
    return " where " + String.join(" and ", conditions);
  }

  /** {@code column = false}, or whatever a row holds that has not been marked. */
  String live(SoftDelete soft, String alias) {
    String column = alias + names.write(soft.column().name());
    return soft.live().isEmpty()
        ? column + " is null"
        : column + " = " + literal(soft.live().get());
  }

  String gone(SoftDelete soft) {
    return names.write(soft.column().name())
        + " = "
        + soft.gone().map(this::literal).orElseGet(() -> statement.words.now("current_timestamp"));
  }

  private String literal(String written) {
    return switch (written) {
      case "true" -> statement.words.truth(true);
      case "false" -> statement.words.truth(false);
      default -> written;
    };
  }

  /** How numbers are fetched from a table that gives them out: read under a lock, then raised. */
  List<String> nextKey(KeyTable keys) {
    String table = names.write(keys.table());
    String key = names.write(keys.key());
    String value = names.write(keys.value());
    return List.of(
        "select t." + value + " from " + table + " t where t." + key + " = ?",
        "update " + table + " set " + value + " = ? where " + value + " = ? and " + key + " = ?");
  }

  /** How rows of a collection's own table, or the elements' way back, are changed: by kind. */
  Map<String, String> collection(Entity owner, ToMany many) {
    Map<String, String> result = new LinkedHashMap<>();
    if (many.link() instanceof Link.TargetColumns columns) {
      Optional<Entity> target = many.target().flatMap(statement.mapping::ofClass);
      if (target.isPresent()) {
        release(target.get(), columns.pairs(), many, result);
      }
      return result;
    }
    Identifier table;
    List<Identifier> toOwner;
    List<Identifier> element;
    if (many.link() instanceof Link.ThroughTable through) {
      table = through.table();
      toOwner = columns(through.toOwner());
      element = columns(through.toTarget());
    } else if (many.link() instanceof Link.Elements elements) {
      table = elements.table();
      toOwner = columns(elements.toOwner());
      element =
          Entity.columnsOf(List.of(elements.element())).stream().map(MappedColumn::name).toList();
    } else {
      return result;
    }
    List<String> owners = bound(toOwner);
    String change = "delete from " + names.write(table);
    List<String> restrictions = new ArrayList<>();
    (many.target().isPresent() ? many.traits().linkRestrictions() : many.restrictions())
        .forEach(it -> restrictions.add("(" + statement.words.condition(it.bare()) + ")"));
    if (many.traits().softDelete().isPresent()) {
      SoftDelete soft = many.traits().softDelete().get();
      change = "update " + names.write(table) + " set " + gone(soft);
      restrictions.add(live(soft, ""));
    }
    result.put("#clear", change + where(owners, restrictions));
    List<Identifier> place = place(many);
    List<Identifier> row = place.isEmpty() ? element : place;
    // Embedded values are written anew as a whole (Hibernate's PersistentSet, needsRecreate).
    boolean whole =
        place.isEmpty()
            && many.link() instanceof Link.Elements elements
            && elements.element() instanceof Attribute.Embedded;
    boolean single = many.traits().bag() || row.isEmpty() || whole;
    if (!single) {
      List<String> both = new ArrayList<>(owners);
      both.addAll(bound(row));
      result.put("#remove", change + where(both, restrictions));
      if (!place.isEmpty() && !element.isEmpty()) {
        result.put(
            "#replace",
            "update "
                + names.write(table)
                + " set "
                + String.join(", ", bound(element))
                + where(both, List.of()));
      }
    }
    return result;
  }

  /** Elements whose own table refers to the owner are let go of by emptying that column. */
  private void release(
      Entity target, List<ColumnPair> pairs, ToMany many, Map<String, String> result) {
    List<Identifier> link = columns(pairs);
    List<Identifier> emptied = new ArrayList<>(link);
    emptied.addAll(place(many));
    String change =
        "update "
            + names.write(target.table())
            + " set "
            + String.join(", ", emptied.stream().map(it -> names.write(it) + " = null").toList());
    result.put("#clear", change + where(bound(link), List.of()));
    List<String> both = new ArrayList<>(bound(link));
    List<String> ids = bound(target.idColumns().stream().map(MappedColumn::name).toList());
    both.addAll(ids);
    if (!ids.isEmpty()) {
      result.put("#remove", change + where(both, List.of()));
      result.put(
          "#add",
          "update "
              + names.write(target.table())
              + " set "
              + String.join(", ", bound(emptied))
              + where(ids, List.of()));
    }
  }

  /** The column of a list's positions or of a map's keys. */
  private static List<Identifier> place(ToMany many) {
    if (many.index().isPresent()) {
      return List.of(many.index().get().name());
    }
    return many.key().isPresent()
        ? Entity.columnsOf(List.of(many.key().get())).stream().map(MappedColumn::name).toList()
        : List.of();
  }

  private static List<Identifier> columns(List<ColumnPair> pairs) {
    return pairs.stream().map(ColumnPair::column).toList();
  }

  private List<String> bound(List<Identifier> columns) {
    return columns.stream().map(it -> names.write(it) + " = ?").toList();
  }

  private static String where(List<String> bound, List<String> restrictions) {
    List<String> all = new ArrayList<>(bound);
    all.addAll(restrictions);
    return " where " + String.join(" and ", all);
  }
}
