package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.antlr.v4.runtime.ParserRuleContext;
import org.antlr.v4.runtime.misc.Interval;
import org.hibernate.grammars.hql.HqlParser;

/** The translators of one SELECT, which call each other. */
final class Block {
  final QueryScope scope;
  final Statement statement;
  final Paths paths;
  final Expressions expressions;
  final Predicates predicates;
  final Functions functions;
  final Comparisons comparisons;

  Block(QueryScope scope) {
    this.scope = scope;
    this.statement = scope.statement;
    this.paths = new Paths(scope);
    this.comparisons = new Comparisons(statement);
    this.expressions = new Expressions(this);
    this.predicates = new Predicates(this);
    this.functions = new Functions(this);
  }

  /** The names of a path. */
  static List<String> names(HqlParser.SimplePathContext path) {
    List<String> names = new ArrayList<>();
    names.add(name(path.identifier()));
    path.simplePathElement().forEach(element -> names.add(name(element.identifier())));
    return names;
  }

  /** A name without the back quotes that make a word a name. */
  static String name(ParserRuleContext identifier) {
    return Identifier.of(identifier.getText()).text();
  }

  /** The text of a part as it was written. */
  static String written(ParserRuleContext part) {
    return part.getStart()
        .getInputStream()
        .getText(new Interval(part.getStart().getStartIndex(), part.getStop().getStopIndex()));
  }

  /** The place that a path leads to. */
  Node node(HqlParser.PathContext path) {
    if (path.generalPathFragment() != null) {
      return node(path.generalPathFragment());
    }
    return continued(node(path.syntacticDomainPath()), path.pathContinuation());
  }

  Node node(HqlParser.GeneralPathFragmentContext path) {
    Node node = node(path, names(path.simplePath()));
    HqlParser.IndexedPathAccessFragmentContext index = path.indexedPathAccessFragment();
    if (index == null) {
      return node;
    }
    Node element = element(index, node, index.expression());
    return index.generalPathFragment() == null
        ? element
        : paths.follow(element, names(index.generalPathFragment().simplePath()));
  }

  Node node(ParserRuleContext place, List<String> names) {
    return paths
        .follow(names)
        .orElseThrow(
            () ->
                UntranslatableException.at(
                    place, String.join(".", names) + " is neither an alias nor an attribute"));
  }

  Node node(HqlParser.SyntacticDomainPathContext path) {
    if (path.treatedNavigablePath() != null) {
      HqlParser.TreatedNavigablePathContext treat = path.treatedNavigablePath();
      String type = treat.simplePath().getText();
      Entity subtype =
          statement
              .mapping
              .entity(type)
              .orElseThrow(
                  () -> UntranslatableException.at(treat.simplePath(), type + " is no entity"));
      EntityUse use = paths.entity(node(treat.path()));
      boolean joined = scope.source(treat.path().getText()).isEmpty();
      if (scope.certain && joined && use.scope.equals(scope)) {
        use.keep(statement.mapping.concreteTypes(subtype));
      }
      return continued(new Node.AtSource(use.treatedAs(subtype)), treat.pathContinuation());
    }
    if (path.collectionValueNavigablePath() != null) {
      HqlParser.CollectionValueNavigablePathContext value = path.collectionValueNavigablePath();
      return continued(node(value.path()), value.pathContinuation());
    }
    if (path.mapKeyNavigablePath() != null) {
      HqlParser.MapKeyNavigablePathContext key = path.mapKeyNavigablePath();
      return continued(keyOrIndex(key, node(key.path())), key.pathContinuation());
    }
    if (path.simplePath() != null && path.indexedPathAccessFragment() != null) {
      HqlParser.IndexedPathAccessFragmentContext index = path.indexedPathAccessFragment();
      Node element = element(index, node(path, names(path.simplePath())), index.expression());
      return index.generalPathFragment() == null
          ? element
          : paths.follow(element, names(index.generalPathFragment().simplePath()));
    }
    throw UntranslatableException.at(path, "this part of a path is not translated");
  }

  /** {@code x.map['key']} and {@code x.list[3]}: the collection joined on the key or position. */
  private Node element(
      ParserRuleContext place, Node collection, HqlParser.ExpressionContext index) {
    if (!(collection instanceof Node.AtCollection at)) {
      throw UntranslatableException.at(place, "only elements of collections have an index");
    }
    Source source =
        paths
            .joiner()
            .join(
                scope,
                at.holder(),
                at.many(),
                FromClause.Kind.INNER,
                at.holder().use().alias + "_" + at.many().name());
    Node element = new Node.AtSource(source);
    Value key = paths.value(keyOrIndex(place, element));
    scope.from.conditions.add(comparisons.compare(key, "=", expressions.value(index)));
    return element;
  }

  /** The key or the position of an element that an alias stands for. */
  Node keyOrIndex(ParserRuleContext path, Node node) {
    Optional<Source.CollectionPart> part = part(node);
    if (part.isPresent()) {
      String alias = part.get().alias();
      Optional<Identifier> index = part.get().index();
      Optional<Attribute> key = part.get().key();
      if (key.isPresent() && key.get() instanceof Attribute.Basic basic) {
        return new Node.AtColumns(
            List.of(alias + "." + statement.names.write(basic.column().name())),
            Optional.of(basic.type()));
      }
      if (key.isPresent() && key.get() instanceof Attribute.ToOne one) {
        return new Node.AtReference(paths.holder(alias), one);
      }
      Optional<String> attribute = part.get().keyAttribute();
      if (attribute.isPresent()) {
        EntityUse use = paths.entity(node);
        String name = attribute.get().isEmpty() ? use.entity.id().get(0).name() : attribute.get();
        return paths.follow(node, List.of(name.split("\\.", -1)));
      }
      if (index.isPresent()) {
        return new Node.AtColumns(
            List.of(alias + "." + statement.names.write(index.get())), Optional.empty());
      }
    }
    throw UntranslatableException.at(path, "the key or index is no column of its own");
  }

  private static Optional<Source.CollectionPart> part(Node node) {
    if (node instanceof Node.AtSource at) {
      if (at.source() instanceof EntityUse use) {
        return use.part;
      }
      if (at.source() instanceof Source.Elements elements) {
        return elements.part();
      }
    }
    return Optional.empty();
  }

  private Node continued(Node node, HqlParser.PathContinuationContext continuation) {
    return continuation == null ? node : paths.follow(node, names(continuation.simplePath()));
  }

  /** A subquery in parentheses; entities in its select list stand for their identifiers. */
  String subquery(HqlParser.SubqueryContext subquery) {
    return "("
        + new Queries(statement).expression(subquery.queryExpression(), Optional.of(scope), false)
        + ")";
  }

  /** Runs a part of the translation; an error without a place gets the part's. */
  static <T> T placed(ParserRuleContext place, java.util.function.Supplier<T> part) {
    try {
      return part.get();
    } catch (UntranslatableException e) {
      throw e.line() > 0 ? e : UntranslatableException.at(place, e.getMessage());
    }
  }
}
