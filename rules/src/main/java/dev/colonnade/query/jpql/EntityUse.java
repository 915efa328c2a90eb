package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Discriminator;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.JoinedTable;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.jpql.FromClause.Join;
import dev.colonnade.query.jpql.FromClause.Kind;
import dev.colonnade.query.jpql.FromClause.Root;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** One use of an entity in a query: its own table under an alias, further tables when needed. */
final class EntityUse implements Source {
  final Entity entity;
  final String alias;
  final QueryScope scope;
  final Root root;

  /** True where the use may have no row: what hangs on it is joined from the left. */
  final boolean outer;

  Optional<CollectionPart> part = Optional.empty();

  /** Columns of a table between that hold the identifier, by the columns of the identifier. */
  private Map<Identifier, String> between = Map.of();

  private final Mapping mapping;
  private final SqlNames names;
  private final Map<Identifier, String> aliases = new HashMap<>();
  private final Map<String, EntityUse> references = new HashMap<>();
  private final Map<String, EntityUse> joined = new HashMap<>();

  EntityUse(Entity entity, String alias, QueryScope scope, Root root, boolean outer) {
    this.entity = entity;
    this.alias = alias;
    this.scope = scope;
    this.root = root;
    this.outer = outer;
    this.mapping = scope.statement.mapping;
    this.names = scope.statement.names;
    aliases.put(entity.table(), alias);
  }

  /** True where the rows come from a table for each class. */
  boolean isUnion() {
    return entity.inheritance() == Inheritance.TABLE_PER_CLASS
        && !mapping.subtypes(entity).isEmpty();
  }

  /** Leaves out the tables of other classes: their rows cannot fulfil the query's condition. */
  void keep(List<Entity> types) {
    List<Entity> kept =
        scope.classes.getOrDefault(alias, mapping.concreteTypes(entity)).stream()
            .filter(types::contains)
            .toList();
    if (isUnion() && !kept.isEmpty()) {
      scope.classes.put(alias, kept);
      root.stand(alias, new EntityTables(scope.statement).union(entity, kept));
    }
  }

  /** The same rows, seen as a subclass. */
  EntityUse treatedAs(Entity subtype) {
    EntityUse treated = new EntityUse(subtype, alias, scope, root, outer);
    treated.aliases.putAll(aliases);
    treated.aliases.put(entity.table(), alias);
    if (!subtype.table().equals(entity.table())) {
      treated.aliases.put(subtype.table(), tableAlias(subtype.table()));
    }
    treated.part = part;
    treated.between = between;
    return treated;
  }

  /** An attribute of the entity, or of one of its subclasses. */
  Optional<Attribute> attribute(String name) {
    Optional<Attribute> own = entity.attribute(name);
    if (own.isPresent()) {
      return own;
    }
    return mapping.subtypes(entity).stream()
        .flatMap(subtype -> subtype.attribute(name).stream())
        .findFirst();
  }

  /** What tells the class of a row: a column, or what is computed from several. */
  String discriminator(Discriminator discriminator) {
    return discriminator
        .formula()
        .map(it -> "(" + it.on(alias) + ")")
        .orElseGet(() -> column(discriminator.column()));
  }

  /** The column, its table joined where it is not yet. */
  String column(MappedColumn column) {
    return tableAlias(column.table()) + "." + names.write(column.name());
  }

  /** A column of which only the name is known: that of the identifier, else of any attribute. */
  String column(Identifier name) {
    for (MappedColumn column : entity.idColumns()) {
      if (column.name().equals(name)) {
        return column(column);
      }
    }
    for (MappedColumn column : Entity.columnsOf(entity.attributes())) {
      if (column.name().equals(name)) {
        return column(column);
      }
    }
    return alias + "." + names.write(name);
  }

  /** The identifier also lies in a table that had to be joined on the way here. */
  void keyLiesBetween(Map<Identifier, String> columns) {
    between = Map.copyOf(columns);
  }

  /** Columns on the way here that hold the identifier; empty where only its own table does. */
  Map<Identifier, String> between() {
    return between;
  }

  List<String> key() {
    if (entity.idColumns().isEmpty()) {
      throw new UntranslatableException(
          "the identifier of " + entity.name() + " is not known", 0, 0);
    }
    return entity.idColumns().stream().map(this::column).toList();
  }

  private String tableAlias(Identifier table) {
    if (entity.inheritance() == Inheritance.TABLE_PER_CLASS) {
      return isSecondary(table) ? joinedAlias(table) : alias;
    }
    return joinedAlias(table);
  }

  private boolean isSecondary(Identifier table) {
    return entity.joinedTables().stream().anyMatch(joined -> joined.table().equals(table));
  }

  private String joinedAlias(Identifier table) {
    String known = aliases.get(table);
    if (known == null) {
      known = names.alias(alias + "_" + table.text());
      join(table, known);
      aliases.put(table, known);
    }
    return known;
  }

  private void join(Identifier table, String newAlias) {
    for (JoinedTable joined : entity.joinedTables()) {
      if (joined.table().equals(table)) {
        Kind kind = joined.optional() || outer ? Kind.LEFT : Kind.INNER;
        add(kind, table, newAlias, joined.pairs());
        return;
      }
    }
    for (Entity subtype : mapping.subtypes(entity)) {
      if (subtype.table().equals(table)) {
        add(Kind.LEFT, table, newAlias, idPairs(subtype));
        return;
      }
      for (JoinedTable joined : subtype.joinedTables()) {
        if (joined.table().equals(table)) {
          add(Kind.LEFT, table, newAlias, joined.pairs());
          return;
        }
      }
    }
    throw new IllegalStateException("table " + table + " is none of " + entity.name() + "'s");
  }

  private List<ColumnPair> idPairs(Entity subtype) {
    List<MappedColumn> own = entity.idColumns();
    List<MappedColumn> other = subtype.idColumns();
    List<ColumnPair> pairs = new ArrayList<>();
    for (int i = 0; i < Math.min(own.size(), other.size()); i++) {
      pairs.add(new ColumnPair(other.get(i).name(), own.get(i).name()));
    }
    return pairs;
  }

  private void add(Kind kind, Identifier table, String newAlias, List<ColumnPair> pairs) {
    Join join = root.join(kind, names.write(table), newAlias);
    for (ColumnPair pair : pairs) {
      join.conditions.add(
          newAlias
              + "."
              + names.write(pair.column())
              + " = "
              + alias
              + "."
              + names.write(pair.referenced()));
    }
  }

  /**
   * What FROM joins along a path without a condition of its own: what is read along before others,
   * else the last. Other paths of the same query through the same reference go over it, those of
   * its subqueries do not (Hibernate ORM 7.4).
   */
  Optional<EntityUse> joined(QueryScope from, String path) {
    return from == scope ? Optional.ofNullable(joined.get(path)) : Optional.empty();
  }

  void join(String path, EntityUse use) {
    EntityUse before = joined.get(path);
    if (before == null || !scope.fetched.contains(before)) {
      joined.put(path, use);
    }
  }

  /** The use that a path of the scope leads to, once joined. */
  Optional<EntityUse> reference(QueryScope from, String path) {
    return Optional.ofNullable(references.get(from.number + ":" + path));
  }

  void remember(QueryScope from, String path, EntityUse joined) {
    references.put(from.number + ":" + path, joined);
  }

  /** Every column of the entity and of its subclasses, as a query that loads it reads them. */
  List<String> allColumns() {
    Set<MappedColumn> columns = new LinkedHashSet<>(entity.idColumns());
    List<Entity> subtypes = mapping.subtypes(entity);
    boolean alone = entity.parent().isPresent() && subtypes.isEmpty();
    entity
        .discriminator()
        .filter(it -> it.formula().isEmpty() && !alone)
        .ifPresent(it -> columns.add(it.column()));
    columns.addAll(Entity.columnsOf(entity.attributes()));
    for (Entity subtype : subtypes) {
      for (MappedColumn column : Entity.columnsOf(subtype.attributes())) {
        if (!subtype.idColumns().contains(column)) {
          columns.add(column);
        }
      }
    }
    Set<String> result = new LinkedHashSet<>();
    columns.forEach(column -> result.add(column(column)));
    if (entity.inheritance() == Inheritance.TABLE_PER_CLASS && !subtypes.isEmpty()) {
      result.add(alias + "." + EntityTables.CLASS_NUMBER);
    }
    if (entity.inheritance() == Inheritance.JOINED && entity.discriminator().isEmpty()) {
      mapping
          .subtypes(entity)
          .forEach(
              it -> result.add(it.idColumns().isEmpty() ? alias : column(it.idColumns().get(0))));
    }
    entity
        .discriminator()
        .filter(it -> it.formula().isPresent() && !alone)
        .ifPresent(it -> result.add(discriminator(it)));
    for (Attribute attribute : entity.attributes()) {
      if (attribute instanceof Attribute.Formula formula) {
        result.add("(" + formula.formula().on(alias) + ")");
      }
    }
    return List.copyOf(result);
  }
}
