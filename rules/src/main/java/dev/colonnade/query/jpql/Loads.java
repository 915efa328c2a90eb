package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Attribute.ToMany;
import dev.colonnade.mapping.Attribute.ToOne;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Fetching.Style;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.jpql.FromClause.Kind;
import dev.colonnade.query.jpql.FromClause.Root;
import dev.colonnade.query.jpql.Joiner.Holder;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * One SELECT by which an implementation reads an entity or a collection by key, with what is read
 * at once joined to it (Hibernate ORM user guide, "Fetching"). Bounded in depth and breadth, as the
 * joins of entities that all refer to each other have no end.
 */
final class Loads {
  private static final int DEPTH = 4;
  private static final int JOINS = 16;

  private final Statement statement;
  private final Block block;
  private final QueryScope scope;
  private final Set<String> columns = new LinkedHashSet<>();

  /** Keys that have been followed on the way to where we are, from either side. */
  private final Set<String> followed = new HashSet<>();

  private boolean bag;
  private int joins;

  Loads(Statement statement) {
    this.statement = statement;
    this.scope = new QueryScope(statement, Optional.empty());
    this.block = new Block(scope);
  }

  /** The row of an entity whose given columns hold given values. */
  String entity(Entity entity, List<MappedColumn> by) {
    EntityTables tables = new EntityTables(statement);
    String alias = statement.names.alias("e");
    Root root = scope.from.root(tables.from(entity), alias);
    EntityUse use = new EntityUse(entity, alias, scope, root, false);
    columns.addAll(use.allColumns());
    by.forEach(column -> scope.from.conditions.add(use.column(column) + " = ?"));
    scope.from.conditions.addAll(tables.conditions(use));
    scope.from.conditions.addAll(tables.ofTenant(use));
    fetch(use, false, 0);
    return render("");
  }

  /** What a reference without a foreign key to an identifier leads to. */
  String reference(Entity owner, ToOne one) {
    Source source = block.paths.joiner().correlate(scope, owner(owner), one, "t");
    EntityUse use = (EntityUse) source;
    columns.addAll(use.allColumns());
    key(owner, one).ifPresent(followed::add);
    fetch(use, true, 1);
    return render("");
  }

  /** The elements of a collection. */
  String collection(Entity owner, ToMany many) {
    bag = many.traits().bag();
    Source source = block.paths.joiner().correlate(scope, owner(owner), many, "t");
    Optional<Source.CollectionPart> part;
    String alias;
    if (source instanceof EntityUse use) {
      part = use.part;
      alias = use.alias;
      columns.addAll(use.allColumns());
      key(owner, many).ifPresent(followed::add);
      fetch(use, true, 1);
    } else {
      Source.Elements elements = (Source.Elements) source;
      part = elements.part();
      alias = elements.alias();
      columns.addAll(block.paths.joiner().keysOf(elements));
      fetch(owner, elements, 1);
    }
    columns.addAll(linkColumns(many));
    part.flatMap(Joiner::keyColumn).ifPresent(it -> columns.add(written(part.get(), it)));
    if (part.isPresent() && many.key().isPresent() && many.key().get() instanceof ToOne one) {
      joinKey(owner, part.get().alias(), one);
    }
    if (many.traits().fetching().style() == Style.BATCH
        || many.traits().fetching().style() == Style.SUBSELECT) {
      batch(scope.from.conditions);
    }
    return render(
        many.orderBy()
            .map(it -> order(source, it))
            .or(() -> many.traits().sqlOrder().map(it -> " order by " + it.on(alias)))
            .orElse(""));
  }

  /** Entities that are the keys of a map are read with it. */
  private void joinKey(Entity owner, String alias, ToOne key) {
    Holder holder = at(owner, alias);
    join(holder.use(), holder, key, Kind.INNER, 1);
  }

  /** What embedded elements refer to is read with them. */
  private void fetch(Entity owner, Source.Elements elements, int depth) {
    if (elements.element() instanceof Attribute.Embedded embedded) {
      Holder holder = at(owner, elements.alias());
      fetch(holder.use(), holder, embedded.attributes(), true, depth);
    }
  }

  /** The columns of a table of a collection, which stand under its alias. */
  private Holder at(Entity owner, String alias) {
    EntityUse use = new EntityUse(owner, alias, scope, scope.from.roots.get(0), false);
    return new Holder(
        use,
        column -> alias + "." + statement.names.write(column.name()),
        column -> alias + "." + statement.names.write(column),
        alias);
  }

  private String written(Source.CollectionPart part, Identifier column) {
    return part.alias() + "." + statement.names.write(column);
  }

  /** Each column of the owner is a value that is given. */
  private Holder owner(Entity owner) {
    EntityUse use = new EntityUse(owner, "o", scope, new Root("o", "o"), false);
    return new Holder(use, column -> "?", column -> "?", "");
  }

  /**
   * A list of keys takes the place of a single one. What a subselect would repeat, the query that
   * has read the owners, is not known; the keys that it gives are.
   */
  private static void batch(List<String> conditions) {
    List<String> bound = conditions.stream().filter(it -> it.endsWith(" = ?")).toList();
    if (bound.size() == 1) {
      conditions.replaceAll(it -> it.equals(bound.get(0)) ? it.replace("= ?", "in (?, ?)") : it);
    }
  }

  /** The columns that lead to the owner, which are read to tell whose an element is. */
  private List<String> linkColumns(ToMany many) {
    if (many.link() instanceof Link.Inverse) {
      return List.of();
    }
    List<String> result = new ArrayList<>();
    for (String condition : scope.from.conditions) {
      int at = condition.indexOf(" = ?");
      if (at > 0) {
        result.add(condition.substring(0, at));
      }
    }
    return result;
  }

  private String order(Source source, String orderBy) {
    List<String> items = new ArrayList<>();
    for (String item : orderBy.split(",", -1)) {
      String[] words = item.strip().split("\\s+", 2);
      List<String> terms =
          item.isBlank()
              ? block.paths.joiner().keysOf(source)
              : block.comparisons.columns(
                  block.paths.value(
                      block.paths.follow(
                          new Node.AtSource(source), List.of(words[0].split("\\.", -1)))),
                  Value.Columns.of(""));
      terms.forEach(it -> items.add(it + (words.length > 1 ? " " + words[1] : "")));
    }
    return " order by " + String.join(", ", items);
  }

  private String render(String order) {
    return "select "
        + String.join(", ", columns)
        + " from "
        + scope.from.render()
        + Queries.where(scope, List.of())
        + order;
  }

  private void fetch(EntityUse use, boolean outer, int depth) {
    List<Attribute> all = new ArrayList<>(use.entity.attributes());
    for (Entity subtype : statement.mapping.subtypes(use.entity)) {
      subtype.attributes().stream()
          .filter(it -> use.entity.attribute(it.name()).isEmpty())
          .forEach(all::add);
    }
    fetch(use, Holder.of(use), all, outer, depth);
  }

  private void fetch(
      EntityUse use, Holder holder, List<Attribute> attributes, boolean outer, int depth) {
    for (Attribute attribute : attributes) {
      if (attribute instanceof Attribute.Embedded embedded) {
        fetch(use, holder.inside(embedded.name()), embedded.attributes(), outer, depth);
      } else if (attribute instanceof ToOne one && joined(one) && isOpen(depth)) {
        boolean required =
            !outer
                && !use.entity.mayLack(one)
                && refersToIdentifier(one)
                && use.entity.attribute(one.name()).isPresent();
        join(use, holder, one, required ? Kind.INNER : Kind.LEFT, depth);
      } else if (attribute instanceof ToMany many && joined(many) && isOpen(depth)) {
        bag |= many.traits().bag();
        join(use, holder, many, Kind.LEFT, depth);
      }
    }
  }

  /**
   * True for own columns that hold the identifier of what they refer to, and no other key of it.
   */
  private boolean refersToIdentifier(ToOne one) {
    List<Identifier> ids =
        statement.mapping.ofClass(one.target()).map(Entity::idColumns).orElse(List.of()).stream()
            .map(MappedColumn::name)
            .toList();
    return one.link() instanceof Link.OwnColumns own
        && own.pairs().stream().allMatch(pair -> ids.contains(pair.referenced()));
  }

  private boolean isOpen(int depth) {
    return depth < DEPTH && joins < JOINS;
  }

  private boolean joined(ToOne one) {
    return one.fetching().eager()
        && one.fetching().style() == Style.JOIN
        && statement.mapping.ofClass(one.target()).isPresent();
  }

  /** Two collections whose elements repeat freely are not joined at once. */
  private boolean joined(ToMany many) {
    return many.traits().fetching().eager()
        && many.traits().fetching().style() == Style.JOIN
        && many.target().map(it -> statement.mapping.ofClass(it).isPresent()).orElse(true)
        && !(bag && many.traits().bag());
  }

  private void join(EntityUse use, Holder holder, Attribute attribute, Kind kind, int depth) {
    Optional<String> key = key(use.entity, attribute);
    if (key.isPresent() && !followed.add(key.get())) {
      return;
    }
    joins++;
    Source source =
        block
            .paths
            .joiner()
            .join(scope, holder, attribute, kind, use.alias + "_" + attribute.name());
    if (source instanceof EntityUse target) {
      columns.addAll(target.allColumns());
      fetch(target, kind == Kind.LEFT, depth + 1);
    } else {
      columns.addAll(block.paths.joiner().keysOf(source));
      if (source instanceof Source.Elements elements) {
        fetch(use.entity, elements, depth + 1);
      }
    }
    key.ifPresent(followed::remove);
  }

  /** The foreign key behind an attribute: the same from both sides. */
  private Optional<String> key(Entity owner, Attribute attribute) {
    Link link =
        attribute instanceof ToOne one
            ? one.link()
            : attribute instanceof ToMany many ? many.link() : null;
    if (link instanceof Link.Inverse inverse) {
      Optional<String> target =
          attribute instanceof ToOne one
              ? Optional.of(one.target())
              : ((ToMany) attribute).target();
      return target
          .flatMap(statement.mapping::ofClass)
          .flatMap(it -> it.attributeAt(inverse.mappedBy()).flatMap(back -> key(it, back)));
    }
    if (link instanceof Link.OwnColumns own) {
      return Optional.of(own.table() + pairs(own.pairs()));
    }
    if (link instanceof Link.ThroughTable through) {
      return Optional.of(through.table() + "");
    }
    return link instanceof Link.TargetColumns columnsOfTarget
        ? Optional.of(owner.className() + pairs(columnsOfTarget.pairs()))
        : Optional.empty();
  }

  private static String pairs(List<ColumnPair> pairs) {
    return pairs.stream().map(it -> it.column().folded()).toList().toString();
  }
}
