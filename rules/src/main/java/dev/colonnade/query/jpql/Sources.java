package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Link;
import dev.colonnade.query.jpql.FromClause.Kind;
import dev.colonnade.query.jpql.FromClause.Root;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.antlr.v4.runtime.ParserRuleContext;
import org.antlr.v4.runtime.tree.ParseTree;
import org.hibernate.grammars.hql.HqlParser;

/** Translates FROM clauses. */
final class Sources {
  private final Block block;
  private final QueryScope scope;
  private final Statement statement;
  private final EntityTables tables;

  Sources(Block block) {
    this.block = block;
    this.scope = block.scope;
    this.statement = block.statement;
    this.tables = new EntityTables(block.statement);
  }

  void read(HqlParser.FromClauseContext from) {
    from.entityWithJoins().forEach(this::read);
  }

  /** A root with its joins, in the order they are written. */
  void read(HqlParser.EntityWithJoinsContext part) {
    Block.placed(
        part,
        () -> {
          root(part.fromRoot());
          return null;
        });
    for (ParseTree child : part.children) {
      if (child instanceof HqlParser.JoinContext join) {
        Block.placed(
            join,
            () -> {
              join(join);
              return null;
            });
      } else if (child instanceof HqlParser.CrossJoinContext cross) {
        entity(cross.entityName(), cross.variable());
      } else if (child instanceof HqlParser.JpaCollectionJoinContext collection) {
        path(collection.path(), collection.variable(), Kind.INNER, false, false);
      }
    }
  }

  /** Reads along what paths from the first entity lead to; a word that is no attribute, nothing. */
  void fetch(List<String> paths) {
    Map<String, Source> known = new HashMap<>();
    for (String path : paths) {
      Node node = new Node.AtSource(scope.roots.get(0));
      boolean outer = false;
      String at = "";
      for (String word : path.split("\\.", -1)) {
        Optional<Node> next = next(node, word);
        if (next.isEmpty()) {
          break;
        }
        node = next.get();
        at += "." + word;
        Attribute attribute = null;
        Joiner.Holder holder = null;
        if (node instanceof Node.AtReference reference) {
          attribute = reference.one();
          holder = reference.holder();
          outer |= reference.holder().use().entity.mayLack(reference.one());
        } else if (node instanceof Node.AtCollection collection) {
          attribute = collection.many();
          holder = collection.holder();
          outer = true;
        }
        if (attribute != null) {
          Source source = known.get(at);
          if (source == null) {
            Kind kind = outer ? Kind.LEFT : Kind.INNER;
            String alias = holder.use().alias + "_" + word;
            source = block.paths.joiner().join(scope, holder, attribute, kind, alias);
            known.put(at, source);
            scope.fetched.add(source);
          }
          node = new Node.AtSource(source);
        }
      }
    }
  }

  private Optional<Node> next(Node node, String word) {
    try {
      return Optional.of(block.paths.follow(node, List.of(word)));
    } catch (UntranslatableException e) {
      return Optional.empty();
    }
  }

  private void root(HqlParser.FromRootContext root) {
    if (root instanceof HqlParser.RootEntityContext entity) {
      entity(entity.entityName(), entity.variable());
      return;
    }
    if (root instanceof HqlParser.RootSubqueryContext subquery) {
      Queries queries = new Queries(statement);
      String alias = statement.names.alias(variable(subquery.variable()).orElse("rows"));
      Queries.Named named = queries.named(subquery.subquery().queryExpression(), scope.parent);
      scope.from.root("(" + named.sql() + ")", alias);
      add(variable(subquery.variable()), new Source.Rows(alias, named.columns()));
      return;
    }
    throw UntranslatableException.at(root, "functions in FROM are not translated");
  }

  private void entity(HqlParser.EntityNameContext name, HqlParser.VariableContext variable) {
    List<String> names = name.identifier().stream().map(Block::name).toList();
    Optional<String> alias = variable(variable);
    if (names.size() > 1 && scope.parent.flatMap(it -> it.source(names.get(0))).isPresent()) {
      Node node = block.node(name, names);
      if (node instanceof Node.AtCollection at) {
        add(
            alias,
            block
                .paths
                .joiner()
                .correlate(scope, at.holder(), at.many(), alias.orElse(names.get(1))));
        return;
      }
      if (node instanceof Node.AtReference at) {
        add(
            alias,
            block
                .paths
                .joiner()
                .correlate(scope, at.holder(), at.one(), alias.orElse(names.get(1))));
        return;
      }
    }
    Statement.CommonTable common =
        names.size() == 1 ? statement.commonTables.get(names.get(0)) : null;
    if (common != null) {
      String sqlAlias = statement.names.alias(alias.orElse(names.get(0)));
      scope.from.root(common.name(), sqlAlias);
      add(alias.or(() -> Optional.of(names.get(0))), new Source.Rows(sqlAlias, common.columns()));
      return;
    }
    Entity entity = find(name, String.join(".", names));
    String sqlAlias = statement.names.alias(alias.orElse(initial(entity)));
    Root root = scope.from.root(tables.from(entity), sqlAlias);
    EntityUse use = new EntityUse(entity, sqlAlias, scope, root, false);
    scope.from.conditions.addAll(tables.conditions(use));
    scope.from.conditions.addAll(tables.ofSession(use));
    requireTable(use);
    add(alias.or(() -> Optional.of(entity.name())), use);
  }

  /** Joined subclasses: their rows are those of the subclass's table, superclasses' are joined. */
  private static void requireTable(EntityUse use) {
    use.key();
  }

  private Entity find(ParserRuleContext place, String name) {
    return statement
        .mapping
        .entity(name)
        .orElseThrow(() -> UntranslatableException.at(place, name + " is no entity"));
  }

  private static String initial(Entity entity) {
    return entity.name().substring(0, 1).toLowerCase(Locale.ROOT);
  }

  private void add(Optional<String> alias, Source source) {
    alias.ifPresent(it -> scope.name(it, source));
    scope.roots.add(source);
  }

  static Optional<String> variable(HqlParser.VariableContext variable) {
    if (variable == null) {
      return Optional.empty();
    }
    return Optional.of(
        Block.name(
            variable.identifier() != null ? variable.identifier() : variable.nakedIdentifier()));
  }

  private void join(HqlParser.JoinContext join) {
    Kind kind = kind(join.joinType());
    if (join.joinTarget() instanceof HqlParser.JoinSubqueryContext rows) {
      subquery(rows, kind, join);
      return;
    }
    if (!(join.joinTarget() instanceof HqlParser.JoinPathContext target)) {
      throw UntranslatableException.at(join, "a join of this kind is not translated");
    }
    Root root = lastRoot();
    int before = root.joins.size();
    boolean isEntity = entityJoin(target, kind);
    if (!isEntity) {
      root =
          path(
              target.path(),
              target.variable(),
              kind,
              join.FETCH() != null,
              join.joinRestriction() != null);
      before = Math.min(before, root.joins.size() - 1);
      before = root == lastRoot() ? before : root.joins.size() - 1;
    }
    if (join.joinRestriction() != null) {
      int own = root.joins.size() - before;
      String condition = block.predicates.sql(join.joinRestriction().predicate());
      boolean alternatives = condition.contains(" or ");
      root.restrict(before, own, alternatives ? "(" + condition + ")" : condition);
    }
  }

  private void subquery(HqlParser.JoinSubqueryContext rows, Kind kind, HqlParser.JoinContext join) {
    boolean lateral = rows.LATERAL() != null;
    Optional<QueryScope> outer = lateral ? Optional.of(scope) : scope.parent;
    Queries.Named named = new Queries(statement).named(rows.subquery().queryExpression(), outer);
    String alias = statement.names.alias(variable(rows.variable()).orElse("rows"));
    FromClause.Join joined =
        lastRoot().join(kind, (lateral ? "lateral " : "") + "(" + named.sql() + ")", alias);
    variable(rows.variable())
        .ifPresent(it -> scope.name(it, new Source.Rows(alias, named.columns())));
    if (join.joinRestriction() != null) {
      joined.conditions.add(block.predicates.sql(join.joinRestriction().predicate()));
    }
  }

  private Root lastRoot() {
    return scope.from.roots.get(scope.from.roots.size() - 1);
  }

  private static Kind kind(HqlParser.JoinTypeContext type) {
    if (type == null || type.INNER() != null) {
      return Kind.INNER;
    }
    if (type.LEFT() != null) {
      return Kind.LEFT;
    }
    if (type.RIGHT() != null) {
      return Kind.RIGHT;
    }
    return type.FULL() != null ? Kind.FULL : type.OUTER() != null ? Kind.LEFT : Kind.INNER;
  }

  /** A join of an entity by name, whose condition is all that links it. */
  private boolean entityJoin(HqlParser.JoinPathContext target, Kind kind) {
    HqlParser.GeneralPathFragmentContext path = target.path().generalPathFragment();
    if (path == null || path.indexedPathAccessFragment() != null) {
      return false;
    }
    List<String> names = Block.names(path.simplePath());
    if (scope.source(names.get(0)).isPresent()) {
      return false;
    }
    Optional<String> alias = variable(target.variable());
    Statement.CommonTable common =
        names.size() == 1 ? statement.commonTables.get(names.get(0)) : null;
    Root root = lastRoot();
    if (common != null) {
      String sqlAlias = statement.names.alias(alias.orElse(names.get(0)));
      root.join(kind, common.name(), sqlAlias);
      scope.name(alias.orElse(names.get(0)), new Source.Rows(sqlAlias, common.columns()));
      return true;
    }
    Entity entity = find(path, String.join(".", names));
    String sqlAlias = statement.names.alias(alias.orElse(initial(entity)));
    FromClause.Join join = root.join(kind, tables.from(entity), sqlAlias);
    EntityUse use =
        new EntityUse(entity, sqlAlias, scope, root, kind == Kind.LEFT || kind == Kind.FULL);
    join.conditions.addAll(tables.conditions(use));
    join.conditions.addAll(tables.ofSession(use));
    scope.name(alias.orElse(entity.name()), use);
    return true;
  }

  /**
   * A join along an attribute; gives the root it hangs on.
   *
   * @param restricted true where the join has a condition of its own
   */
  private Root path(
      HqlParser.PathContext path,
      HqlParser.VariableContext variable,
      Kind kind,
      boolean fetch,
      boolean restricted) {
    Optional<Entity> treated = Optional.empty();
    HqlParser.PathContext followed = path;
    if (path.syntacticDomainPath() != null
        && path.syntacticDomainPath().treatedNavigablePath() != null
        && path.syntacticDomainPath().treatedNavigablePath().pathContinuation() == null
        && path.pathContinuation() == null) {
      HqlParser.TreatedNavigablePathContext treat =
          path.syntacticDomainPath().treatedNavigablePath();
      treated = Optional.of(find(treat.simplePath(), treat.simplePath().getText()));
      followed = treat.path();
    }
    Joiner joiner = block.paths.joiner();
    joiner.implicitKind = kind == Kind.LEFT ? Kind.LEFT : Kind.INNER;
    Node node;
    try {
      node = Paths.unjoined(block.node(followed));
    } finally {
      joiner.implicitKind = Kind.INNER;
    }
    Joiner.Holder holder;
    Attribute attribute;
    if (node instanceof Node.AtReference at) {
      holder = at.holder();
      attribute = at.one();
    } else if (node instanceof Node.AtCollection at) {
      holder = at.holder();
      attribute = at.many();
    } else {
      throw UntranslatableException.at(path, "only references and collections can be joined");
    }
    Optional<String> alias = variable(variable);
    Source source =
        block
            .paths
            .joiner()
            .join(
                scope,
                holder,
                attribute,
                kind,
                alias.orElse(holder.use().alias + "_" + attribute.name()));
    if (treated.isPresent() && source instanceof EntityUse use) {
      source = treat(use, treated.get(), kind);
    }
    Root root = holder.use().scope == scope ? holder.use().root : lastRoot();
    if (treated.isEmpty() && !restricted && isDroppable(attribute, kind)) {
      root.droppable.add(((EntityUse) source).alias);
    }
    Source joined = source;
    alias.ifPresent(it -> scope.name(it, joined));
    if (joined instanceof EntityUse use && treated.isEmpty() && !restricted) {
      holder.use().join(holder.path() + "." + attribute.name(), use);
    }
    if (fetch) {
      scope.fetched.add(joined);
    }
    return root;
  }

  /** True where a joined reference neither adds nor takes rows. */
  private boolean isDroppable(Attribute attribute, Kind kind) {
    return attribute instanceof Attribute.ToOne one
        && one.link() instanceof Link.OwnColumns
        && (kind == Kind.LEFT
            || (kind == Kind.INNER
                && !one.optional()
                && block.paths.target(one).restrictions().isEmpty()
                && block.paths.target(one).parent().isEmpty()));
  }

  private EntityUse treat(EntityUse use, Entity subtype, Kind kind) {
    EntityUse treated = use.treatedAs(subtype);
    if (kind == Kind.INNER && !subtype.idColumns().isEmpty()) {
      String key = treated.key().get(0);
      use.root.require(key.substring(0, key.indexOf('.')));
    }
    Map<Boolean, String> conditions =
        use.entity.discriminator().isPresent()
            ? Map.of(true, tables.isOf(treated, statement.mapping.concreteTypes(subtype)))
            : Map.of();
    if (!conditions.isEmpty() && !use.root.joins.isEmpty()) {
      use.root.joins.get(use.root.joins.size() - 1).conditions.add(conditions.get(true));
    }
    return treated;
  }
}
