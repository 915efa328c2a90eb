package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.CollectionTraits;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.Restriction;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.jpql.FromClause.Kind;
import dev.colonnade.query.jpql.FromClause.Root;
import dev.colonnade.query.jpql.Source.CollectionPart;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/** Brings the tables behind an attribute into a query. */
final class Joiner {
  /**
   * The side that holds an attribute.
   *
   * @param use the entity that it belongs to in the end
   * @param column gives the SQL of a column of the holder
   * @param named gives the SQL of a column of the holder of which only the name is known
   * @param path the path from the use, for telling joins apart
   */
  record Holder(
      EntityUse use,
      Function<MappedColumn, String> column,
      Function<Identifier, String> named,
      String path) {
    static Holder of(EntityUse use) {
      return new Holder(use, use::column, use::column, "");
    }

    /** A computation over columns of the holder. */
    String formula(Restriction written) {
      return "(" + written.on(use.alias) + ")";
    }

    Holder inside(String attribute) {
      return new Holder(use, column, named, path + "." + attribute);
    }
  }

  /** The place where tables go: joined to the holder's, or as roots of a scope of their own. */
  private interface Place {
    /** Adds a table and gives the list that takes its conditions. */
    List<String> add(Kind kind, String table, String alias);

    Root root();
  }

  private final Statement statement;
  private final EntityTables tables;

  /** How references inside a path are joined: as the explicit join that the path belongs to. */
  Kind implicitKind = Kind.INNER;

  Joiner(Statement statement) {
    this.statement = statement;
    this.tables = new EntityTables(statement);
  }

  /** The use behind a reference in a path: joined once in a scope, inner as the standard says. */
  EntityUse implicit(QueryScope scope, Holder holder, Attribute.ToOne one) {
    String path = holder.path() + "." + one.name();
    return holder
        .use()
        .reference(scope, path)
        .orElseGet(
            () -> {
              EntityUse joined =
                  (EntityUse)
                      join(scope, holder, one, implicitKind, holder.use().alias + "_" + one.name());
              holder.use().remember(scope, path, joined);
              return joined;
            });
  }

  /** Joins what an attribute leads to: an entity, or the elements of a collection. */
  Source join(QueryScope scope, Holder holder, Attribute attribute, Kind kind, String alias) {
    Place place = holder.use().scope == scope ? joined(holder.use().root) : apart(scope);
    return attach(scope, place, holder, attribute, kind, alias);
  }

  /** Brings what an attribute of an outer query leads to into a subquery's FROM. */
  Source correlate(QueryScope scope, Holder holder, Attribute attribute, String alias) {
    return attach(scope, apart(scope), holder, attribute, Kind.INNER, alias);
  }

  private static Place joined(Root root) {
    return new Place() {
      @Override
      public List<String> add(Kind kind, String table, String alias) {
        return root.join(kind, table, alias).conditions;
      }

      @Override
      public Root root() {
        return root;
      }
    };
  }

  /** The first table becomes a root, further ones are joined to it. */
  private static Place apart(QueryScope scope) {
    return new Place() {
      private Root own;

      @Override
      public List<String> add(Kind kind, String table, String alias) {
        if (own == null) {
          own = scope.from.root(table, alias);
          return scope.from.conditions;
        }
        return own.join(kind, table, alias).conditions;
      }

      @Override
      public Root root() {
        return own;
      }
    };
  }

  private Source attach(
      QueryScope scope,
      Place place,
      Holder holder,
      Attribute attribute,
      Kind kind,
      String wishedAlias) {
    String alias = statement.names.alias(wishedAlias);
    boolean outer = kind == Kind.LEFT || kind == Kind.FULL;
    if (attribute instanceof Attribute.ToOne one) {
      Entity target = entity(one.target());
      return attachEntity(scope, place, holder, one.link(), target, List.of(), kind, alias, outer)
          .use();
    }
    if (!(attribute instanceof Attribute.ToMany many)) {
      throw new UntranslatableException(attribute.name() + " cannot be joined", 0, 0);
    }
    if (many.link() instanceof Link.Elements elements) {
      List<String> conditions = place.add(kind, statement.names.write(elements.table()), alias);
      link(conditions, alias, elements.toOwner(), holder.named());
      many.restrictions().forEach(it -> conditions.add(condition(it, alias)));
      conditions.addAll(ofLink(many.traits(), alias, alias, true));
      return new Source.Elements(alias, elements.element(), part(many, alias));
    }
    Attached attached =
        attachEntity(
            scope,
            place,
            holder,
            many.link(),
            entity(many.target().orElseThrow()),
            many.restrictions(),
            kind,
            alias,
            outer);
    attached.use().part = part(many, attached.linkAlias());
    String linkAlias = attached.linkAlias();
    String ownAlias = attached.use().alias;
    attached
        .conditions()
        .addAll(ofLink(many.traits(), linkAlias, ownAlias, !linkAlias.equals(ownAlias)));
    return attached.use();
  }

  private String condition(Restriction restriction, String alias) {
    return "(" + statement.words.condition(restriction.on(alias)) + ")";
  }

  private static Optional<CollectionPart> part(Attribute.ToMany many, String alias) {
    Optional<String> attribute = many.traits().keyAttribute();
    return many.key().isPresent() || many.index().isPresent() || attribute.isPresent()
        ? Optional.of(
            new CollectionPart(alias, many.key(), many.index().map(MappedColumn::name), attribute))
        : Optional.empty();
  }

  private Entity entity(String className) {
    return statement
        .mapping
        .ofClass(className)
        .orElseThrow(() -> new UntranslatableException(className + " is no entity", 0, 0));
  }

  /**
   * An entity in the query.
   *
   * @param linkAlias alias of the table that links it: one between, or its own
   */
  private record Attached(EntityUse use, String linkAlias, List<String> conditions) {}

  /** What the table between adds: restrictions, marks of deletion, filters that are on. */
  private List<String> ofLink(
      CollectionTraits traits, String linkAlias, String alias, boolean hasTable) {
    List<String> result = new ArrayList<>();
    traits.linkRestrictions().forEach(it -> result.add(condition(it, linkAlias)));
    if (hasTable && traits.softDelete().isPresent()) {
      result.add(new RowChanges(statement).live(traits.softDelete().get(), linkAlias + "."));
    }
    result.addAll(tables.filters(traits.filters(), alias));
    return result;
  }

  private Attached attachEntity(
      QueryScope scope,
      Place place,
      Holder holder,
      Link link,
      Entity target,
      List<Restriction> restrictions,
      Kind kind,
      String alias,
      boolean outer) {
    if (link instanceof Link.Inverse inverse) {
      Attribute back =
          target
              .attributeAt(inverse.mappedBy())
              .orElseThrow(
                  () ->
                      new UntranslatableException(
                          target.name() + " has no attribute " + inverse.mappedBy(), 0, 0));
      if (back instanceof Attribute.ToOne one && one.link() instanceof Link.OwnColumns own) {
        List<String> conditions = place.add(kind, tables.from(target), alias);
        EntityUse use = new EntityUse(target, alias, scope, place.root(), outer);
        for (ColumnPair pair : own.pairs()) {
          String column = use.column(new MappedColumn(own.table(), pair.column()));
          if (!column.startsWith(alias + ".")) {
            throw new UntranslatableException(
                "the way back from " + target.name() + " lies in a further table", 0, 0);
          }
          conditions.add(column + " = " + holder.named().apply(pair.referenced()));
        }
        return finish(use, conditions, restrictions, alias);
      }
      Link backLink =
          back instanceof Attribute.ToMany many
              ? many.link()
              : back instanceof Attribute.ToOne one ? one.link() : null;
      if (backLink instanceof Link.ThroughTable through) {
        Link turned = through.reversed();
        return attachEntity(scope, place, holder, turned, target, restrictions, kind, alias, outer);
      }
      throw new UntranslatableException(
          "the way back through " + inverse.mappedBy() + " is not understood", 0, 0);
    }
    if (link instanceof Link.ThroughTable through) {
      String between = statement.names.alias(alias + "_" + through.table().text());
      List<String> first = place.add(kind, statement.names.write(through.table()), between);
      link(first, between, through.toOwner(), holder.named());
      List<String> second = place.add(kind, tables.from(target), alias);
      EntityUse use = new EntityUse(target, alias, scope, place.root(), outer);
      Map<Identifier, String> key = new LinkedHashMap<>();
      for (ColumnPair pair : through.toTarget()) {
        String column = between + "." + statement.names.write(pair.column());
        second.add(use.column(pair.referenced()) + " = " + column);
        key.put(pair.referenced(), column);
      }
      boolean answers =
          restrictions.isEmpty()
              && target.restrictions().isEmpty()
              && target.parent().isEmpty()
              && target.idColumns().stream().allMatch(it -> key.containsKey(it.name()));
      if (answers) {
        use.keyLiesBetween(key);
        place.root().droppable.add(alias);
      }
      return finish(use, second, restrictions, between);
    }
    List<String> conditions = place.add(kind, tables.from(target), alias);
    EntityUse use = new EntityUse(target, alias, scope, place.root(), outer);
    if (link instanceof Link.OwnColumns own) {
      for (ColumnPair pair : own.pairs()) {
        conditions.add(
            use.column(pair.referenced())
                + " = "
                + holder.column().apply(new MappedColumn(own.table(), pair.column())));
      }
    } else if (link instanceof Link.TargetColumns columns) {
      link(conditions, alias, columns.pairs(), holder.named());
    } else if (link instanceof Link.ByFormula formula) {
      conditions.add(use.column(formula.referenced()) + " = " + holder.formula(formula.formula()));
    }
    return finish(use, conditions, restrictions, alias);
  }

  private Attached finish(
      EntityUse use, List<String> conditions, List<Restriction> restrictions, String linkAlias) {
    conditions.addAll(tables.conditions(use));
    restrictions.forEach(it -> conditions.add(condition(it, use.alias)));
    return new Attached(use, linkAlias, conditions);
  }

  private void link(
      List<String> conditions,
      String alias,
      List<ColumnPair> pairs,
      Function<Identifier, String> owner) {
    for (ColumnPair pair : pairs) {
      conditions.add(
          alias
              + "."
              + statement.names.write(pair.column())
              + " = "
              + owner.apply(pair.referenced()));
    }
  }

  /**
   * A scope of its own with the elements of a collection in its FROM; the elements' own table is
   * left out where the table between answers.
   *
   * @param keys columns that identify the elements
   * @param key the column of their keys or positions, where there is one
   */
  record CollectionRows(QueryScope scope, List<String> keys, Optional<String> key) {
    CollectionRows {
      keys = List.copyOf(keys);
    }

    /** The subquery that selects the text. */
    String select(String item) {
      String where =
          scope.from.conditions.isEmpty()
              ? ""
              : " where " + String.join(" and ", scope.from.conditions);
      return "(select " + item + " from " + scope.from.render() + where + ")";
    }
  }

  /** The elements of a collection, in a subquery. */
  CollectionRows rows(QueryScope outer, Holder holder, Attribute.ToMany many) {
    QueryScope inner = new QueryScope(statement, Optional.of(outer));
    String wished = many.name();
    Optional<Link.ThroughTable> through = through(many);
    if (through.isPresent() && many.restrictions().isEmpty()) {
      Entity target = entity(many.target().orElseThrow());
      List<Identifier> ids = target.idColumns().stream().map(MappedColumn::name).toList();
      boolean answers =
          target.restrictions().isEmpty()
              && through.get().toTarget().stream().map(ColumnPair::referenced).toList().equals(ids);
      if (answers) {
        String alias = statement.names.alias(wished);
        inner.from.root(statement.names.write(through.get().table()), alias);
        link(inner.from.conditions, alias, through.get().toOwner(), holder.named());
        inner.from.conditions.addAll(ofLink(many.traits(), alias, alias, true));
        return new CollectionRows(
            inner,
            through.get().toTarget().stream()
                .map(pair -> alias + "." + statement.names.write(pair.column()))
                .toList(),
            part(many, alias).flatMap(this::keySql));
      }
    }
    Source source = correlate(inner, holder, many, wished);
    Optional<CollectionPart> part =
        source instanceof EntityUse use
            ? use.part
            : source instanceof Source.Elements elements ? elements.part() : Optional.empty();
    return new CollectionRows(inner, keysOf(source), part.flatMap(this::keySql));
  }

  private Optional<String> keySql(CollectionPart part) {
    return keyColumn(part).map(it -> part.alias() + "." + statement.names.write(it));
  }

  /** The column of an element's key or position, where it has one of its own. */
  static Optional<Identifier> keyColumn(CollectionPart part) {
    return part.key()
        .filter(Attribute.Basic.class::isInstance)
        .map(it -> ((Attribute.Basic) it).column().name())
        .or(part::index);
  }

  /** The columns that tell an element from others. */
  List<String> keysOf(Source source) {
    if (source instanceof EntityUse use) {
      return use.key();
    }
    if (source instanceof Source.Elements elements) {
      return Entity.columnsOf(List.of(elements.element())).stream()
          .map(column -> elements.alias() + "." + statement.names.write(column.name()))
          .toList();
    }
    throw new UntranslatableException("rows of a subquery have no identity", 0, 0);
  }

  private Optional<Link.ThroughTable> through(Attribute.ToMany many) {
    if (many.link() instanceof Link.ThroughTable through) {
      return Optional.of(through);
    }
    if (many.link() instanceof Link.Inverse inverse && many.target().isPresent()) {
      return entity(many.target().get())
          .attributeAt(inverse.mappedBy())
          .filter(Attribute.ToMany.class::isInstance)
          .map(back -> ((Attribute.ToMany) back).link())
          .filter(Link.ThroughTable.class::isInstance)
          .map(Link.ThroughTable.class::cast)
          .map(Link.ThroughTable::reversed);
    }
    return Optional.empty();
  }
}
