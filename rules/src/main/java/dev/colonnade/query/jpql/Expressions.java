package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.hibernate.grammars.hql.HqlParser;
import org.hibernate.grammars.hql.HqlParser.ExpressionContext;
import org.hibernate.grammars.hql.HqlParser.ExpressionOrPredicateContext;

/** Translates expressions. */
final class Expressions {
  private final Block block;

  Expressions(Block block) {
    this.block = block;
  }

  /** An expression in one column. */
  String sql(ExpressionContext expression) {
    return single(expression, value(expression));
  }

  /** An expression or a condition in one column. */
  String sql(ExpressionOrPredicateContext part) {
    return part.expression() != null
        ? sql(part.expression())
        : block.predicates.sql(part.predicate());
  }

  Value value(ExpressionOrPredicateContext part) {
    return part.expression() != null
        ? value(part.expression())
        : Value.Columns.of(block.predicates.sql(part.predicate()));
  }

  private String single(ExpressionContext place, Value value) {
    List<String> columns =
        Block.placed(place, () -> block.comparisons.columns(value, Value.Columns.of("")));
    if (columns.size() != 1) {
      throw UntranslatableException.at(
          place, "a value of " + columns.size() + " columns stands where one is needed");
    }
    return columns.get(0);
  }

  Value value(ExpressionContext expression) {
    return Block.placed(expression, () -> read(expression));
  }

  private Value read(ExpressionContext expression) {
    if (expression instanceof HqlParser.GroupedExpressionContext grouped) {
      Value inner = value(grouped.expression());
      return inner instanceof Value.Columns columns && columns.sql().size() == 1
          ? new Value.Columns(List.of(grouped(columns.sql().get(0))), columns.type())
          : inner;
    }
    if (expression instanceof HqlParser.TupleExpressionContext tuple) {
      return new Value.Tuple(tuple.expressionOrPredicate().stream().map(this::value).toList());
    }
    if (expression instanceof HqlParser.SubqueryExpressionContext subquery) {
      return Value.Columns.of(block.subquery(subquery.subquery()));
    }
    if (expression instanceof HqlParser.BarePrimaryExpressionContext bare) {
      return primary(bare.primaryExpression());
    }
    if (expression instanceof HqlParser.UnaryNumericLiteralExpressionContext unary) {
      return Value.Columns.of(
          unary.signOperator().getText() + Literals.number(unary.numericLiteral()));
    }
    if (expression instanceof HqlParser.UnaryExpressionContext unary) {
      return Value.Columns.of(unary.signOperator().getText() + sql(unary.expression()));
    }
    if (expression instanceof HqlParser.MultiplicationExpressionContext product) {
      String left = sql(product.expression(0));
      String right = sql(product.expression(1));
      String operator = product.multiplicativeOperator().getText();
      return Value.Columns.of(
          operator.equals("%")
              ? block.statement.words.mod(left, right)
              : left + " " + operator + " " + right);
    }
    if (expression instanceof HqlParser.AdditionExpressionContext sum
        && sum.expression(1) instanceof HqlParser.ToDurationExpressionContext duration) {
      return new FurtherFunctions(block).moved(sum, duration);
    }
    if (expression instanceof HqlParser.AdditionExpressionContext sum) {
      return Value.Columns.of(
          sql(sum.expression(0))
              + " "
              + sum.additiveOperator().getText()
              + " "
              + sql(sum.expression(1)));
    }
    if (expression instanceof HqlParser.ConcatenationExpressionContext concatenation) {
      return Value.Columns.of(
          block.statement.words.concat(
              concatenation.expression().stream().map(this::sql).toList()));
    }
    if (expression instanceof HqlParser.FromDurationExpressionContext duration) {
      return Value.Columns.of(
          new FurtherFunctions(block)
              .difference(duration.expression(), duration.datetimeField())
              .orElseThrow(
                  () ->
                      UntranslatableException.at(
                          expression, "durations of this form are not translated")));
    }
    throw UntranslatableException.at(expression, "durations are not translated");
  }

  private static String grouped(String sql) {
    boolean simple = sql.matches("[\\w.:?\"`\\[\\]]+") || sql.startsWith("(select ");
    return simple ? sql : "(" + sql + ")";
  }

  private Value primary(HqlParser.PrimaryExpressionContext primary) {
    if (primary instanceof HqlParser.CaseExpressionContext choice) {
      return Value.Columns.of(choice(choice.caseList()));
    }
    if (primary instanceof HqlParser.LiteralExpressionContext literal) {
      return Literals.read(literal.literal(), block.statement.words);
    }
    if (primary instanceof HqlParser.ParameterExpressionContext parameter) {
      return new Value.Parameter(parameter(parameter.parameter()));
    }
    if (primary instanceof HqlParser.EntityTypeExpressionContext type) {
      HqlParser.EntityTypeReferenceContext reference = type.entityTypeReference();
      return reference.parameter() != null
          ? new Value.Parameter(parameter(reference.parameter()))
          : new Value.TypeOf(block.paths.entity(block.node(reference.path())));
    }
    if (primary instanceof HqlParser.EntityIdExpressionContext id) {
      HqlParser.EntityIdReferenceContext reference = id.entityIdReference();
      return identifier(reference);
    }
    if (primary instanceof HqlParser.EntityVersionExpressionContext version) {
      EntityUse use = block.paths.entity(block.node(version.entityVersionReference().path()));
      String name =
          use.entity
              .version()
              .orElseThrow(
                  () ->
                      UntranslatableException.at(
                          version, use.entity.name() + " counts no versions"));
      return block.paths.value(block.paths.follow(new Node.AtSource(use), List.of(name)));
    }
    if (primary instanceof HqlParser.SyntacticPathExpressionContext path) {
      Node node = block.node(path.syntacticDomainPath());
      return block.paths.value(
          path.pathContinuation() == null
              ? node
              : block.paths.follow(node, Block.names(path.pathContinuation().simplePath())));
    }
    if (primary instanceof HqlParser.FunctionExpressionContext function
        && function.pathContinuation() == null
        && function.slicedPathAccessFragment() == null
        && function.indexedPathAccessFragment() == null) {
      return block.functions.value(function.function());
    }
    if (primary instanceof HqlParser.GeneralPathExpressionContext path) {
      return path(path.generalPathFragment());
    }
    throw UntranslatableException.at(primary, "this expression is not translated");
  }

  private Value identifier(HqlParser.EntityIdReferenceContext reference) {
    Value entity = block.paths.value(block.node(reference.path()));
    if (!(entity instanceof Value.Reference known)) {
      throw UntranslatableException.at(reference, "id() needs an entity");
    }
    if (reference.pathContinuation() == null) {
      return new Value.Columns(known.key(), Optional.empty());
    }
    List<String> names = new ArrayList<>();
    List<Attribute> id = known.entity().id();
    if (id.size() == 1) {
      names.add(id.get(0).name());
    }
    names.addAll(Block.names(reference.pathContinuation().simplePath()));
    return block.paths.value(block.paths.follow(block.node(reference.path()), names));
  }

  private Value path(HqlParser.GeneralPathFragmentContext path) {
    List<String> names = Block.names(path.simplePath());
    if (path.indexedPathAccessFragment() == null) {
      Optional<Node> node = block.paths.follow(names);
      if (node.isPresent()) {
        return block.paths.value(node.get());
      }
      String name = String.join(".", names);
      Optional<Entity> type = block.statement.mapping.entity(name);
      return type.isPresent() ? new Value.TypeName(type.get()) : new Value.Constant(name);
    }
    return block.paths.value(block.node(path));
  }

  /** A parameter as it is written. */
  static String parameter(HqlParser.ParameterContext parameter) {
    return parameter.getText();
  }

  private String choice(HqlParser.CaseListContext choice) {
    StringBuilder sql = new StringBuilder("case");
    HqlParser.CaseOtherwiseContext otherwise;
    if (choice.simpleCaseList() != null) {
      HqlParser.SimpleCaseListContext simple = choice.simpleCaseList();
      Value subject = value(simple.expressionOrPredicate());
      sql.append(' ').append(sql(simple.expressionOrPredicate()));
      for (HqlParser.SimpleCaseWhenContext when : simple.simpleCaseWhen()) {
        Value test = value(when.expression());
        List<String> columns = Block.placed(when, () -> block.comparisons.columns(test, subject));
        sql.append(" when ").append(columns.get(0));
        sql.append(" then ").append(sql(when.expressionOrPredicate()));
      }
      otherwise = simple.caseOtherwise();
    } else {
      HqlParser.SearchedCaseListContext searched = choice.searchedCaseList();
      for (HqlParser.SearchedCaseWhenContext when : searched.searchedCaseWhen()) {
        sql.append(" when ").append(block.predicates.sql(when.predicate()));
        sql.append(" then ").append(sql(when.expressionOrPredicate()));
      }
      otherwise = searched.caseOtherwise();
    }
    if (otherwise != null) {
      sql.append(" else ").append(sql(otherwise.expressionOrPredicate()));
    }
    return sql.append(" end").toString();
  }

  /** The names that a query knows in lower case. */
  static String lower(String text) {
    return text.toLowerCase(Locale.ROOT);
  }
}
