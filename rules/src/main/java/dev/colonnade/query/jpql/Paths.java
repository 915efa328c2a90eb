package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Attribute.Embedded;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.jpql.FromClause.Kind;
import dev.colonnade.query.jpql.Joiner.Holder;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Follows paths through entities. */
final class Paths {
  private final QueryScope scope;
  private final Statement statement;
  private final Joiner joiner;

  Paths(QueryScope scope) {
    this.scope = scope;
    this.statement = scope.statement;
    this.joiner = new Joiner(scope.statement);
  }

  Joiner joiner() {
    return joiner;
  }

  /** Where a path of names leads; empty where it starts with no alias and no attribute. */
  Optional<Node> follow(List<String> names) {
    Optional<Source> source = scope.source(names.get(0));
    if (source.isPresent()) {
      return Optional.of(follow(new Node.AtSource(source.get()), names.subList(1, names.size())));
    }
    for (QueryScope at = scope; at != null; at = at.parent.orElse(null)) {
      for (Source root : at.roots) {
        if (root instanceof EntityUse use
            && (use.attribute(names.get(0)).isPresent() || isId(use.entity, names.get(0)))) {
          return Optional.of(follow(new Node.AtSource(use), names));
        }
      }
    }
    return names.size() == 1 ? rawColumn(names.get(0)) : Optional.empty();
  }

  /**
   * A column by its own name, which Hibernate ORM before 6 handed on to the database; only those
   * that an attribute lies in.
   */
  private Optional<Node> rawColumn(String name) {
    Identifier wanted = Identifier.of(name);
    for (Source root : scope.roots) {
      if (root instanceof EntityUse use) {
        for (MappedColumn column : Entity.columnsOf(use.entity.attributes())) {
          if (column.name().equals(wanted)) {
            return Optional.of(new Node.AtColumns(List.of(use.column(column)), Optional.empty()));
          }
        }
      }
    }
    return Optional.empty();
  }

  /** Goes on from a place. */
  Node follow(Node start, List<String> names) {
    Node node = start;
    for (String name : names) {
      node = step(node, name);
    }
    return node;
  }

  private Node step(Node node, String name) {
    if (node instanceof Node.AtSource at) {
      // A part of a key of several columns is asked of the reference, which holds them all.
      return at.along()
          .filter(it -> target(it.one()).id().stream().allMatch(Embedded.class::isInstance))
          .flatMap(reference -> ownKey(reference, name))
          .orElseGet(() -> fromSource(at.source(), name));
    }
    if (node instanceof Node.AtReference at) {
      return fromReference(at, name);
    }
    if (node instanceof Node.AtValue at && at.attribute() instanceof Embedded embedded) {
      Attribute inner =
          Entity.find(embedded.attributes(), name)
              .orElseThrow(() -> unknown(embedded.className(), name));
      return at(at.holder().inside(embedded.name()), inner);
    }
    if (node instanceof Node.AtCollection at) {
      if (name.equals("size")) {
        // Hibernate ORM before 6 took this for the function of that name.
        return new Node.AtColumns(
            List.of(joiner.rows(scope, at.holder(), at.many()).select("count(*)")),
            Optional.empty());
      }
      throw error("a path goes through the collection " + at.many().name());
    }
    throw error("a path goes on after a value: " + name);
  }

  private Node fromSource(Source source, String name) {
    if (source instanceof EntityUse use) {
      return fromEntity(use, name);
    }
    if (source instanceof Source.Elements elements) {
      if (elements.element() instanceof Embedded embedded) {
        Attribute inner =
            Entity.find(embedded.attributes(), name)
                .orElseThrow(() -> unknown(embedded.className(), name));
        return at(holder(elements), inner);
      }
      throw error("a path goes on after a value: " + name);
    }
    Source.Rows rows = (Source.Rows) source;
    List<String> columns = rows.columns().get(name);
    if (columns == null) {
      throw error("the rows of " + rows.alias() + " have no " + name);
    }
    return new Node.AtColumns(
        columns.stream().map(column -> rows.alias() + "." + column).toList(), Optional.empty());
  }

  private Holder holder(Source.Elements elements) {
    return holder(elements.alias());
  }

  /** A table of a collection, which has no entity of its own: the query's first one stands in. */
  Holder holder(String alias) {
    EntityUse standIn = null;
    for (QueryScope at = scope; at != null && standIn == null; at = at.parent.orElse(null)) {
      for (Source root : at.roots) {
        standIn = root instanceof EntityUse use ? use : standIn;
      }
    }
    if (standIn == null) {
      throw error("elements of a collection without an entity");
    }
    return new Holder(
        standIn,
        column -> alias + "." + statement.names.write(column.name()),
        column -> alias + "." + statement.names.write(column),
        alias);
  }

  private Node fromEntity(EntityUse use, String name) {
    Optional<Attribute> attribute =
        use.attribute(name)
            .or(
                () ->
                    isId(use.entity, name)
                        ? Optional.of(use.entity.id().get(0))
                        : Optional.empty());
    if (attribute.isPresent()) {
      Map<Identifier, String> between = use.between();
      boolean near =
          !between.isEmpty() && use.entity.id().contains(attribute.get()) && !scope.sorts(use);
      return at(
          near
              ? new Holder(use, column -> between.get(column.name()), between::get, "")
              : Holder.of(use),
          attribute.get());
    }
    if (name.equals("class")) {
      return new Node.AtType(use);
    }
    throw unknown(use.entity.name(), name);
  }

  /** HQL's {@code id}: the identifier, where no attribute has that name. */
  private static boolean isId(Entity entity, String name) {
    return name.equals("id") && entity.id().size() == 1 && entity.attribute("id").isEmpty();
  }

  private Node at(Holder holder, Attribute attribute) {
    if (attribute instanceof Attribute.ToOne one) {
      Node.AtReference reference = new Node.AtReference(holder, one);
      return holder
          .use()
          .joined(scope, holder.path() + "." + one.name())
          .<Node>map(it -> new Node.AtSource(it, Optional.of(reference)))
          .orElse(reference);
    }
    return attribute instanceof Attribute.ToMany many
        ? new Node.AtCollection(holder, many)
        : new Node.AtValue(holder, attribute);
  }

  /** The reference itself where a path ended at what FROM joins along it. */
  static Node unjoined(Node node) {
    return node instanceof Node.AtSource at && at.along().isPresent() ? at.along().get() : node;
  }

  /** The part of that name of the target's identifier, where the reference itself holds it. */
  private Optional<Node> ownKey(Node.AtReference at, String name) {
    Entity target = target(at.one());
    Optional<Attribute> id =
        Entity.find(target.id(), name)
            .or(() -> isId(target, name) ? Optional.of(target.id().get(0)) : Optional.empty());
    Optional<Map<Identifier, String>> own = ownKey(at, target);
    if (id.isEmpty() || own.isEmpty()) {
      return Optional.empty();
    }
    Map<Identifier, String> columns = own.get();
    Holder holder =
        new Holder(
            at.holder().use(),
            column -> columns.get(column.name()),
            columns::get,
            at.holder().path() + "." + at.one().name());
    return Optional.of(at(holder, id.get()));
  }

  private Node fromReference(Node.AtReference at, String name) {
    Optional<Node> key = ownKey(at, name);
    if (key.isPresent()) {
      return key.get();
    }
    Entity target = target(at.one());
    Optional<String> other =
        Entity.find(target.attributes(), name)
            .filter(Attribute.Basic.class::isInstance)
            .flatMap(
                it ->
                    otherKey(at)
                        .map(columns -> columns.get(((Attribute.Basic) it).column().name())));
    if (other.isPresent()) {
      return new Node.AtColumns(
          List.of(other.get()),
          Entity.find(target.attributes(), name).map(it -> ((Attribute.Basic) it).type()));
    }
    return fromEntity(joined(at), name);
  }

  Entity target(Attribute.ToOne one) {
    return statement
        .mapping
        .ofClass(one.target())
        .orElseThrow(() -> error(one.target() + " is no entity"));
  }

  /**
   * The columns of the holder that hold the target's identifier, by the target's columns; none
   * where the target is restricted, for then its row has to be looked at.
   */
  private Optional<Map<Identifier, String>> ownKey(Node.AtReference at, Entity target) {
    return isFree(at, target) ? foreignKey(at, target) : Optional.empty();
  }

  /** True where a key tells that its row is there. */
  private static boolean isFree(Node.AtReference at, Entity target) {
    return target.restrictions().isEmpty()
        && target.upkeep().softDelete().isEmpty()
        && !at.one().mayDangle();
  }

  /**
   * The columns of the holder that refer to others of the target than its identifier, by the
   * target's columns; none where the identifier is known without the target.
   */
  Optional<Map<Identifier, String>> otherKey(Node.AtReference at) {
    Entity target = target(at.one());
    if (!(at.one().link() instanceof Link.OwnColumns own)
        || !isFree(at, target)
        || foreignKey(at, target).isPresent()) {
      return Optional.empty();
    }
    Map<Identifier, String> result = new LinkedHashMap<>();
    for (ColumnPair pair : own.pairs()) {
      result.put(
          pair.referenced(),
          at.holder().column().apply(new MappedColumn(own.table(), pair.column())));
    }
    return Optional.of(result);
  }

  /** The entity that a reference leads to, or none: joined from the left. */
  EntityUse perhaps(Node.AtReference at) {
    Kind before = joiner.implicitKind;
    joiner.implicitKind = Kind.LEFT;
    try {
      return joined(at);
    } finally {
      joiner.implicitKind = before;
    }
  }

  /** The function {@code fk}: the foreign key as it is, whether or not its target is restricted. */
  Value foreignKey(Node written) {
    Node node = unjoined(written);
    if (node instanceof Node.AtReference at) {
      Entity target = target(at.one());
      Optional<Map<Identifier, String>> own = foreignKey(at, target);
      if (own.isPresent()) {
        return new Value.Columns(
            target.idColumns().stream().map(column -> own.get().get(column.name())).toList(),
            Optional.empty());
      }
    }
    return value(node);
  }

  private static Optional<Map<Identifier, String>> foreignKey(Node.AtReference at, Entity target) {
    if (at.one().link() instanceof Link.ByFormula formula
        && target.idColumns().size() == 1
        && target.idColumns().get(0).name().equals(formula.referenced())) {
      return Optional.of(Map.of(formula.referenced(), at.holder().formula(formula.formula())));
    }
    if (!(at.one().link() instanceof Link.OwnColumns own)) {
      return Optional.empty();
    }
    Map<Identifier, String> result = new LinkedHashMap<>();
    for (ColumnPair pair : own.pairs()) {
      result.put(
          pair.referenced(),
          at.holder().column().apply(new MappedColumn(own.table(), pair.column())));
    }
    for (MappedColumn column : target.idColumns()) {
      if (!result.containsKey(column.name())) {
        return Optional.empty();
      }
    }
    return Optional.of(result);
  }

  EntityUse joined(Node.AtReference at) {
    return joiner.implicit(scope, at.holder(), at.one());
  }

  /** The entity at a place, its table in the query. */
  EntityUse entity(Node node) {
    if (node instanceof Node.AtSource at && at.source() instanceof EntityUse use) {
      return use;
    }
    if (node instanceof Node.AtReference at) {
      return joined(at);
    }
    throw error("the path does not lead to an entity");
  }

  /** The place as a value. */
  Value value(Node node) {
    if (node instanceof Node.AtSource at) {
      if (at.source() instanceof EntityUse use) {
        List<String> nearest =
            use.between().isEmpty() || scope.sorts(use)
                ? use.key()
                : use.entity.idColumns().stream().map(it -> use.between().get(it.name())).toList();
        return new Value.Reference(use.entity, use.key(), () -> use, nearest);
      }
      if (at.source() instanceof Source.Elements elements) {
        return value(new Node.AtValue(holder(elements), elements.element()));
      }
      Source.Rows rows = (Source.Rows) at.source();
      List<String> all = new ArrayList<>();
      rows.columns()
          .values()
          .forEach(names -> names.forEach(it -> all.add(rows.alias() + "." + it)));
      return new Value.Columns(all, Optional.empty());
    }
    if (node instanceof Node.AtReference at) {
      Entity target = target(at.one());
      Optional<Map<Identifier, String>> own = ownKey(at, target);
      if (own.isPresent()) {
        List<String> key =
            target.idColumns().stream().map(column -> own.get().get(column.name())).toList();
        return new Value.Reference(target, key, () -> joined(at));
      }
      EntityUse use = joined(at);
      return new Value.Reference(use.entity, use.key(), () -> use);
    }
    if (node instanceof Node.AtColumns at) {
      return new Value.Columns(at.sql(), at.type());
    }
    if (node instanceof Node.AtType at) {
      return new Value.TypeOf(at.use());
    }
    if (node instanceof Node.AtCollection at) {
      throw error("the collection " + at.many().name() + " stands where a value is needed");
    }
    Node.AtValue at = (Node.AtValue) node;
    return value(at.holder(), at.attribute());
  }

  private Value value(Holder holder, Attribute attribute) {
    if (attribute instanceof Attribute.Basic basic) {
      return new Value.Columns(
          List.of(holder.column().apply(basic.column())), Optional.of(basic.type()));
    }
    if (attribute instanceof Attribute.Formula formula) {
      return Value.Columns.of("(" + formula.formula().on(holder.use().alias) + ")");
    }
    List<String> columns =
        Entity.columnsOf(List.of(attribute)).stream().map(holder.column()).toList();
    return new Value.Columns(columns, Optional.empty());
  }

  private static UntranslatableException unknown(String type, String name) {
    return error(type + " has no attribute " + name);
  }

  /** The place is filled in by whoever knows the part of the text. */
  private static UntranslatableException error(String reason) {
    return new UntranslatableException(reason, 0, 0);
  }
}
