package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.ValueType;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.hibernate.grammars.hql.HqlParser;
import org.hibernate.grammars.hql.HqlParser.PredicateContext;

/** Translates conditions. */
final class Predicates {
  private final Block block;

  Predicates(Block block) {
    this.block = block;
  }

  /** Expressions that give a value where a part of them has none. */
  private static final Pattern REPLACES_NULL =
      Pattern.compile("(?i)coalesce\\(|ifnull\\(|nvl\\(|case");

  /** The condition of a WHERE: rows that do not fulfil each of its parts are not in the result. */
  String where(PredicateContext predicate) {
    if (predicate instanceof HqlParser.GroupedPredicateContext grouped) {
      return "(" + where(grouped.predicate()) + ")";
    }
    if (predicate instanceof HqlParser.AndPredicateContext and) {
      return where(and.predicate(0)) + " and " + where(and.predicate(1));
    }
    boolean compares =
        predicate instanceof HqlParser.BinaryExpressionPredicateContext
            || predicate instanceof HqlParser.BetweenPredicateContext
            || predicate instanceof HqlParser.InPredicateContext
            || predicate instanceof HqlParser.LikePredicateContext;
    block.scope.certain = compares && !REPLACES_NULL.matcher(predicate.getText()).find();
    try {
      return sql(predicate);
    } finally {
      block.scope.certain = false;
    }
  }

  /** A condition. */
  String sql(PredicateContext predicate) {
    return Block.placed(predicate, () -> read(predicate));
  }

  private String read(PredicateContext predicate) {
    if (predicate instanceof HqlParser.GroupedPredicateContext grouped) {
      return "(" + sql(grouped.predicate()) + ")";
    }
    if (predicate instanceof HqlParser.AndPredicateContext and) {
      return sql(and.predicate(0)) + " and " + sql(and.predicate(1));
    }
    if (predicate instanceof HqlParser.OrPredicateContext or) {
      return sql(or.predicate(0)) + " or " + sql(or.predicate(1));
    }
    if (predicate instanceof HqlParser.NegatedPredicateContext not) {
      return not.predicate() instanceof HqlParser.BooleanExpressionPredicateContext truth
          ? truth(block.expressions.value(truth.expression()), false)
          : "not " + enclosed(sql(not.predicate()));
    }
    if (predicate instanceof HqlParser.BinaryExpressionPredicateContext binary) {
      return duration(binary).or(() -> byOtherKey(binary)).orElseGet(() -> compare(binary));
    }
    if (predicate instanceof HqlParser.UnaryIsPredicateContext unary) {
      return is(unary);
    }
    if (predicate instanceof HqlParser.BetweenPredicateContext between) {
      Value subject = block.expressions.value(between.expression(0));
      return column(subject, subject)
          + not(between.NOT() != null)
          + " between "
          + column(block.expressions.value(between.expression(1)), subject)
          + " and "
          + column(block.expressions.value(between.expression(2)), subject);
    }
    if (predicate instanceof HqlParser.LikePredicateContext like) {
      return like(like);
    }
    if (predicate instanceof HqlParser.InPredicateContext in) {
      return in(in);
    }
    if (predicate instanceof HqlParser.MemberOfPredicateContext member) {
      Joiner.CollectionRows rows = rows(block.node(member.path()));
      Value element = block.expressions.value(member.expression());
      rows.scope()
          .from
          .conditions
          .add(
              block.comparisons.compare(
                  new Value.Columns(rows.keys(), Optional.empty()), "=", element));
      return (member.NOT() != null ? "not " : "") + "exists " + rows.select("1");
    }
    if (predicate instanceof HqlParser.ExistsPredicateContext exists) {
      return "exists " + enclosed(block.expressions.sql(exists.expression()));
    }
    if (predicate instanceof HqlParser.ExistsCollectionPartPredicateContext exists) {
      return "exists " + rows(block.node(exists, Block.names(exists.simplePath()))).select("1");
    }
    if (predicate instanceof HqlParser.BooleanExpressionPredicateContext truth) {
      return truth(block.expressions.value(truth.expression()), true);
    }
    throw UntranslatableException.at(predicate, "this condition is not translated");
  }

  private String compare(HqlParser.BinaryExpressionPredicateContext binary) {
    Value left = block.expressions.value(binary.expression(0));
    Value right = block.expressions.value(binary.expression(1));
    if (block.scope.certain) {
      block.comparisons.narrow(block.scope, left, operator(binary).equals("="), List.of(right));
    }
    return block.comparisons.compare(left, operator(binary), right);
  }

  private static String enclosed(String sql) {
    return sql.startsWith("(") && sql.endsWith(")") && closes(sql) ? sql : "(" + sql + ")";
  }

  /** True where the first parenthesis closes at the end. */
  private static boolean closes(String sql) {
    int depth = 0;
    boolean quoted = false;
    for (int i = 0; i < sql.length(); i++) {
      char c = sql.charAt(i);
      quoted ^= c == '\'';
      if (!quoted) {
        depth += c == '(' ? 1 : c == ')' ? -1 : 0;
        if (depth == 0) {
          return i == sql.length() - 1;
        }
      }
    }
    return false;
  }

  private static String not(boolean negated) {
    return negated ? " not" : "";
  }

  private String column(Value value, Value beside) {
    List<String> columns = block.comparisons.columns(value, beside);
    if (columns.size() != 1) {
      throw new UntranslatableException("a value of several columns stands here", 0, 0);
    }
    return columns.get(0);
  }

  /** The place of a reference, where the expression is nothing but a path to one. */
  private Optional<Node.AtReference> reference(HqlParser.ExpressionContext expression) {
    return expression instanceof HqlParser.BarePrimaryExpressionContext bare
            && bare.primaryExpression() instanceof HqlParser.GeneralPathExpressionContext path
            && path.generalPathFragment().indexedPathAccessFragment() == null
        ? block
            .paths
            .follow(Block.names(path.generalPathFragment().simplePath()))
            .filter(Node.AtReference.class::isInstance)
            .map(Node.AtReference.class::cast)
        : Optional.empty();
  }

  /** What is null where a reference leads to no row: its key, or that of the row looked for. */
  private Value absent(HqlParser.ExpressionContext expression) {
    Optional<Node.AtReference> reference = reference(expression);
    if (reference.isPresent()) {
      Optional<Map<Identifier, String>> other = block.paths.otherKey(reference.get());
      if (other.isPresent()) {
        return new Value.Columns(List.copyOf(other.get().values()), Optional.empty());
      }
      boolean looked =
          reference.get().one().link() instanceof Link.Inverse || reference.get().one().mayDangle();
      if (looked) {
        return new Value.Columns(block.paths.perhaps(reference.get()).key(), Optional.empty());
      }
    }
    return block.expressions.value(expression);
  }

  /** References by another key than the identifier are compared by that key. */
  private Optional<String> byOtherKey(HqlParser.BinaryExpressionPredicateContext binary) {
    String operator = operator(binary);
    for (int i = 0; i < 2; i++) {
      Optional<Map<Identifier, String>> own =
          reference(binary.expression(i)).flatMap(block.paths::otherKey);
      if (own.isEmpty()) {
        continue;
      }
      HqlParser.ExpressionContext opposite = binary.expression(1 - i);
      Optional<Map<Identifier, String>> theirs = reference(opposite).flatMap(block.paths::otherKey);
      Value left = new Value.Columns(List.copyOf(own.get().values()), Optional.empty());
      if (theirs.isPresent() && theirs.get().keySet().equals(own.get().keySet())) {
        return Optional.of(
            block.comparisons.compare(
                left,
                operator,
                new Value.Columns(List.copyOf(theirs.get().values()), Optional.empty())));
      }
      Value right = block.expressions.value(opposite);
      if (right instanceof Value.Parameter) {
        return Optional.of(block.comparisons.compare(left, operator, right));
      }
      if (right instanceof Value.Reference entity) {
        List<String> columns =
            own.get().keySet().stream().map(it -> entity.use().get().column(it)).toList();
        return Optional.of(
            block.comparisons.compare(
                left, operator, new Value.Columns(columns, Optional.empty())));
      }
    }
    return Optional.empty();
  }

  /** {@code a - b > 3 day}: in the units of the duration. */
  private Optional<String> duration(HqlParser.BinaryExpressionPredicateContext binary) {
    for (int i = 0; i < 2; i++) {
      if (binary.expression(i) instanceof HqlParser.ToDurationExpressionContext duration) {
        Optional<String> difference =
            new FurtherFunctions(block)
                .difference(binary.expression(1 - i), duration.datetimeField());
        String amount = block.expressions.sql(duration.expression());
        int side = i;
        return difference.map(
            it ->
                (side == 0 ? amount : it)
                    + " "
                    + operator(binary)
                    + " "
                    + (side == 0 ? it : amount));
      }
    }
    return Optional.empty();
  }

  private static String operator(HqlParser.BinaryExpressionPredicateContext binary) {
    if (binary.DISTINCT() != null) {
      return binary.NOT() != null ? "is not distinct from" : "is distinct from";
    }
    if (binary.EQUAL() != null) {
      return "=";
    }
    if (binary.NOT_EQUAL() != null) {
      return "<>";
    }
    if (binary.GREATER() != null) {
      return ">";
    }
    if (binary.GREATER_EQUAL() != null) {
      return ">=";
    }
    if (binary.LESS() != null) {
      return "<";
    }
    if (binary.LESS_EQUAL() != null) {
      return "<=";
    }
    throw UntranslatableException.at(binary, "this comparison is not translated");
  }

  private String is(HqlParser.UnaryIsPredicateContext unary) {
    boolean negated = unary.NOT() != null;
    if (unary.EMPTY() != null) {
      String exists = "exists " + rows(collection(unary.expression())).select("1");
      return negated ? exists : "not " + exists;
    }
    Value value =
        unary.NULL() != null
            ? absent(unary.expression())
            : block.expressions.value(unary.expression());
    if (unary.NULL() != null) {
      List<String> tests =
          block.comparisons.columns(Value.identity(value), Value.Columns.of("")).stream()
              .map(column -> column + " is" + not(negated) + " null")
              .toList();
      // A value of several columns is missing where all of them are.
      return tests.size() == 1
          ? tests.get(0)
          : "(" + String.join(negated ? " or " : " and ", tests) + ")";
    }
    String truth = truth(value, unary.TRUE() != null);
    return negated
        ? "(not (" + truth + ") or " + column(value, Value.Columns.of("")) + " is null)"
        : truth;
  }

  /** A value as a condition; a column is compared, so that an index can serve it. */
  private String truth(Value value, boolean wanted) {
    if (value instanceof Value.Columns columns && columns.type().isPresent()) {
      ValueType type = columns.type().get();
      return column(value, value) + " = " + block.comparisons.truth(wanted, Optional.of(type));
    }
    if (value instanceof Value.Truth literal) {
      return literal.value() == wanted ? "1 = 1" : "1 = 0";
    }
    String sql = column(value, Value.Columns.of(""));
    return wanted ? sql : "not (" + sql + ")";
  }

  private String like(HqlParser.LikePredicateContext like) {
    if (like.REGEXP() != null) {
      throw UntranslatableException.at(like, "regular expressions are not translated");
    }
    Value subject = block.expressions.value(like.expression(0));
    String left = column(subject, subject);
    String right = column(block.expressions.value(like.expression(1)), subject);
    boolean negated = like.NOT() != null;
    String test =
        like.ILIKE() != null
            ? block.statement.words.ilike(negated, left, right)
            : left + not(negated) + " like " + right;
    String escape =
        like.likeEscape() == null
            ? ""
            : " escape "
                + (like.likeEscape().parameter() != null
                    ? Expressions.parameter(like.likeEscape().parameter())
                    : like.likeEscape().STRING_LITERAL().getText());
    return test + escape;
  }

  private String in(HqlParser.InPredicateContext in) {
    Value subject = Value.identity(block.expressions.value(in.expression()));
    String not = not(in.NOT() != null);
    HqlParser.InListContext list = in.inList();
    if (list instanceof HqlParser.SubqueryInListContext subquery) {
      return Comparisons.tuple(block.comparisons.columns(subject, Value.Columns.of("")))
          + not
          + " in "
          + block.subquery(subquery.subquery());
    }
    List<Value> values = new ArrayList<>();
    if (list instanceof HqlParser.ParamInListContext parameter) {
      values.add(new Value.Parameter(Expressions.parameter(parameter.parameter())));
    } else if (list instanceof HqlParser.ArrayInListContext one
        && block.expressions.value(one.expression()) instanceof Value.Reference entity) {
      // Hibernate ORM before 6 took an alias for a list of the one entity that it stands for.
      values.add(entity);
    } else if (list instanceof HqlParser.ExplicitTupleInListContext explicit) {
      explicit.expressionOrPredicate().forEach(it -> values.add(block.expressions.value(it)));
    } else if (list instanceof HqlParser.PersistentCollectionReferenceInListContext collection) {
      Joiner.CollectionRows rows =
          rows(block.node(collection, Block.names(collection.simplePath())));
      if (collection.collectionQuantifier().indicesKeysQuantifier() != null) {
        String key =
            rows.key()
                .orElseThrow(
                    () ->
                        UntranslatableException.at(
                            collection, "the key or index is no column of its own"));
        return column(subject, subject) + not + " in " + rows.select(key);
      }
      return Comparisons.tuple(
              block.comparisons.columns(subject, new Value.Columns(rows.keys(), Optional.empty())))
          + not
          + " in "
          + rows.select(String.join(", ", rows.keys()));
    } else {
      throw UntranslatableException.at(list, "a list of this kind is not translated");
    }
    if (values.isEmpty()) {
      return not.isEmpty() ? "1 = 0" : "1 = 1";
    }
    if (block.scope.certain) {
      block.comparisons.narrow(block.scope, subject, in.NOT() == null, values);
    }
    boolean byTables =
        subject instanceof Value.TypeOf of && of.use().entity.discriminator().isEmpty();
    if (byTables && values.get(0) instanceof Value.TypeName) {
      List<String> tests =
          values.stream().map(value -> block.comparisons.compare(subject, "=", value)).toList();
      String any = tests.size() == 1 ? tests.get(0) : "(" + String.join(" or ", tests) + ")";
      return not.isEmpty() ? any : "not (" + any + ")";
    }
    List<String> subjects = block.comparisons.columns(subject, values.get(0));
    if (subjects.size() > 1 && !block.statement.words.listsRows()) {
      String any =
          String.join(
              " or ",
              values.stream().map(it -> block.comparisons.compare(subject, "=", it)).toList());
      return (not.isEmpty() ? "" : "not ") + "(" + any + ")";
    }
    List<String> items =
        values.stream()
            .map(value -> Comparisons.tuple(block.comparisons.columns(value, subject)))
            .toList();
    return Comparisons.tuple(subjects) + not + " in (" + String.join(", ", items) + ")";
  }

  private Node collection(HqlParser.ExpressionContext expression) {
    if (expression instanceof HqlParser.BarePrimaryExpressionContext bare
        && bare.primaryExpression() instanceof HqlParser.GeneralPathExpressionContext path) {
      return block.node(path.generalPathFragment());
    }
    throw UntranslatableException.at(expression, "a collection is needed here");
  }

  /** The elements of a collection as a subquery. */
  Joiner.CollectionRows rows(Node node) {
    if (node instanceof Node.AtCollection at) {
      return block.paths.joiner().rows(block.scope, at.holder(), at.many());
    }
    throw new UntranslatableException("a collection is needed here", 0, 0);
  }
}
