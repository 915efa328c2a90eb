package dev.colonnade.sql;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.predicate.Expression.Parameter;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Exists;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.predicate.Predicate.Not;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.OpaquePredicate;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.RowComparison;
import dev.colonnade.predicate.Predicate.RowInList;
import dev.colonnade.predicate.Predicate.TruthTest;
import dev.colonnade.sql.ExpressionContext.SubqueryKind;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import net.sf.jsqlparser.expression.AnyComparisonExpression;
import net.sf.jsqlparser.expression.AnyType;
import net.sf.jsqlparser.expression.ArrayConstructor;
import net.sf.jsqlparser.expression.BinaryExpression;
import net.sf.jsqlparser.expression.CastExpression;
import net.sf.jsqlparser.expression.Function;
import net.sf.jsqlparser.expression.JsonExpression;
import net.sf.jsqlparser.expression.NotExpression;
import net.sf.jsqlparser.expression.operators.conditional.AndExpression;
import net.sf.jsqlparser.expression.operators.conditional.OrExpression;
import net.sf.jsqlparser.expression.operators.relational.Between;
import net.sf.jsqlparser.expression.operators.relational.CosineSimilarity;
import net.sf.jsqlparser.expression.operators.relational.ExistsExpression;
import net.sf.jsqlparser.expression.operators.relational.ExpressionList;
import net.sf.jsqlparser.expression.operators.relational.InExpression;
import net.sf.jsqlparser.expression.operators.relational.IsBooleanExpression;
import net.sf.jsqlparser.expression.operators.relational.IsDistinctExpression;
import net.sf.jsqlparser.expression.operators.relational.IsNullExpression;
import net.sf.jsqlparser.expression.operators.relational.IsUnknownExpression;
import net.sf.jsqlparser.expression.operators.relational.LikeExpression;
import net.sf.jsqlparser.expression.operators.relational.ParenthesedExpressionList;
import net.sf.jsqlparser.schema.Column;
import net.sf.jsqlparser.statement.select.Select;

/** Reads conditions. */
final class ConditionReader {
  private final ExpressionContext context;
  private final ExpressionReader reader;

  /** Number of NOTs around the condition that is being read. */
  private int negations;

  ConditionReader(ExpressionContext context, ExpressionReader reader) {
    this.context = context;
    this.reader = reader;
  }

  Predicate read(net.sf.jsqlparser.expression.Expression parsed) {
    if (parsed instanceof ParenthesedExpressionList<?> list && list.size() == 1) {
      return read(list.get(0));
    }
    if (parsed instanceof AndExpression and) {
      List<Predicate> parts = new ArrayList<>();
      chain(and, AndExpression.class).forEach(part -> parts.add(read(part)));
      return new And(parts);
    }
    if (parsed instanceof OrExpression or) {
      List<Predicate> parts = new ArrayList<>();
      chain(or, OrExpression.class).forEach(part -> parts.add(read(part)));
      return new Or(parts);
    }
    if (parsed instanceof NotExpression not) {
      negations++;
      try {
        return context.negated(read(not.getExpression()));
      } finally {
        negations--;
      }
    }
    if (parsed instanceof ExistsExpression exists) {
      return exists(exists);
    }
    if (parsed instanceof InExpression in) {
      Predicate read = in(in);
      return in.isNot() ? new Not(read) : read;
    }
    if (parsed instanceof Between between) {
      return between(between);
    }
    if (parsed instanceof LikeExpression like) {
      return LikeReader.read(like, reader).orElseGet(() -> opaque(like, "pattern language"));
    }
    if (parsed instanceof BinaryExpression binary) {
      return binary(binary);
    }
    return test(parsed);
  }

  /** The operands of a chain of one operator from left to right; such chains can be very long. */
  private static List<net.sf.jsqlparser.expression.Expression> chain(
      BinaryExpression top, Class<? extends BinaryExpression> operator) {
    ArrayDeque<net.sf.jsqlparser.expression.Expression> operands = new ArrayDeque<>();
    net.sf.jsqlparser.expression.Expression rest = top;
    while (operator.isInstance(rest)) {
      BinaryExpression link = operator.cast(rest);
      operands.addFirst(link.getRightExpression());
      rest = link.getLeftExpression();
    }
    operands.addFirst(rest);
    return List.copyOf(operands);
  }

  private Predicate exists(ExistsExpression exists) {
    Optional<Select> select = ValueReader.subquery(exists.getRightExpression());
    if (select.isEmpty()) {
      return opaque(exists, "EXISTS of something that is no subquery");
    }
    Subquery subquery = context.subquery(select.get(), SubqueryKind.EXISTS);
    Predicate read = new Exists(subquery.block(), subquery.correlated());
    return exists.isNot() ? new Not(read) : read;
  }

  private Predicate binary(BinaryExpression binary) {
    Optional<ComparisonOperator> operator = operator(binary);
    if (operator.isEmpty()) {
      return opaque(binary, "operator " + binary.getStringExpression().strip());
    }
    return compare(binary, binary.getLeftExpression(), operator.get(), binary.getRightExpression());
  }

  private Predicate compare(
      net.sf.jsqlparser.expression.Expression whole,
      net.sf.jsqlparser.expression.Expression left,
      ComparisonOperator operator,
      net.sf.jsqlparser.expression.Expression right) {
    Optional<Predicate> quantified = quantified(whole, left, operator, right);
    if (quantified.isPresent()) {
      return quantified.get();
    }
    Optional<List<Expression>> leftRow = row(left);
    Optional<List<Expression>> rightRow = row(right);
    if (leftRow.isEmpty() && rightRow.isEmpty()) {
      return new Comparison(reader.expression(left), operator, reader.expression(right));
    }
    if (leftRow.isPresent()
        && rightRow.isPresent()
        && leftRow.get().size() == rightRow.get().size()) {
      return new RowComparison(leftRow.get(), operator, rightRow.get());
    }
    Optional<Select> select = ValueReader.subquery(right);
    if (leftRow.isPresent() && select.isPresent() && operator == ComparisonOperator.EQUAL) {
      Subquery subquery = context.subquery(select.get(), SubqueryKind.IN);
      return new InSubquery(leftRow.get(), subquery.block(), subquery.correlated());
    }
    return opaque(whole, "rows of different length");
  }

  private static Optional<ComparisonOperator> operator(BinaryExpression binary) {
    if (binary instanceof IsDistinctExpression distinct) {
      return Optional.of(
          distinct.isNot()
              ? ComparisonOperator.NULL_SAFE_EQUAL
              : ComparisonOperator.NULL_SAFE_NOT_EQUAL);
    }
    // The sign <=> arrives under the name that it has for vectors.
    if (binary instanceof CosineSimilarity) {
      return Optional.of(ComparisonOperator.NULL_SAFE_EQUAL);
    }
    return switch (binary.getStringExpression().replace(" ", "")) {
      case "=", "==" -> Optional.of(ComparisonOperator.EQUAL);
      case "<>", "!=", "^=", "~=" -> Optional.of(ComparisonOperator.NOT_EQUAL);
      case "<" -> Optional.of(ComparisonOperator.LESS);
      case "<=" -> Optional.of(ComparisonOperator.LESS_OR_EQUAL);
      case ">" -> Optional.of(ComparisonOperator.GREATER);
      case ">=" -> Optional.of(ComparisonOperator.GREATER_OR_EQUAL);
      default -> Optional.empty();
    };
  }

  /** The members of {@code (a, b)} or {@code row(a, b)}. */
  private Optional<List<Expression>> row(net.sf.jsqlparser.expression.Expression parsed) {
    if (parsed instanceof ParenthesedExpressionList<?> list) {
      return list.size() > 1 ? Optional.of(reader.expressions(list)) : Optional.empty();
    }
    if (parsed instanceof Function function
        && function.getName().equalsIgnoreCase("row")
        && function.getParameters() != null) {
      return Optional.of(reader.expressions(function.getParameters()));
    }
    return Optional.empty();
  }

  /** {@code = ANY}, {@code <> ALL} and what else compares with many values at once. */
  private Optional<Predicate> quantified(
      net.sf.jsqlparser.expression.Expression whole,
      net.sf.jsqlparser.expression.Expression left,
      ComparisonOperator operator,
      net.sf.jsqlparser.expression.Expression right) {
    boolean all;
    Optional<Select> select = Optional.empty();
    Optional<net.sf.jsqlparser.expression.Expression> array = Optional.empty();
    if (right instanceof AnyComparisonExpression any) {
      all = any.getAnyType() == AnyType.ALL;
      select = Optional.of(any.getSelect());
    } else if (right instanceof Function function && isQuantifier(function)) {
      all = function.getName().equalsIgnoreCase("all");
      array = Optional.of(function.getParameters().get(0));
    } else {
      return Optional.empty();
    }
    boolean isIn = !all && operator == ComparisonOperator.EQUAL;
    boolean isNotIn = all && operator == ComparisonOperator.NOT_EQUAL;
    if (!isIn && !isNotIn) {
      return Optional.of(opaque(whole, "comparison with " + (all ? "ALL" : "ANY")));
    }
    List<Expression> operands = row(left).orElseGet(() -> List.of(reader.expression(left)));
    if (select.isPresent()) {
      Subquery subquery = context.subquery(select.get(), SubqueryKind.IN);
      Predicate in = new InSubquery(operands, subquery.block(), subquery.correlated());
      return Optional.of(isIn ? in : new Not(in));
    }
    Optional<Predicate> in = inArray(operands, array.orElseThrow());
    return Optional.of(
        in.map(found -> isIn ? found : new Not(found))
            .orElseGet(() -> opaque(whole, "look-up in an array column")));
  }

  private Optional<Predicate> inArray(
      List<Expression> operands, net.sf.jsqlparser.expression.Expression array) {
    if (operands.size() != 1) {
      return Optional.empty();
    }
    if (bare(array) instanceof ArrayConstructor constructor) {
      return Optional.of(
          new InList(operands.get(0), reader.expressions(constructor.getExpressions()), false));
    }
    Expression value = reader.expression(array);
    return value.isConstant()
        ? Optional.of(new InList(operands.get(0), List.of(value), true))
        : Optional.empty();
  }

  /** An array without parentheses and casts around it. */
  private static net.sf.jsqlparser.expression.Expression bare(
      net.sf.jsqlparser.expression.Expression array) {
    if (array instanceof ParenthesedExpressionList<?> list && list.size() == 1) {
      return bare(list.get(0));
    }
    return array instanceof CastExpression cast ? bare(cast.getLeftExpression()) : array;
  }

  private static boolean isQuantifier(Function function) {
    String name = function.getName().toLowerCase(Locale.ROOT);
    return function.getParameters() != null
        && function.getParameters().size() == 1
        && (name.equals("any") || name.equals("some") || name.equals("all"));
  }

  private Predicate in(InExpression in) {
    List<Expression> operands =
        row(in.getLeftExpression())
            .orElseGet(() -> List.of(reader.expression(in.getLeftExpression())));
    Optional<Select> select = ValueReader.subquery(in.getRightExpression());
    if (select.isPresent()) {
      Subquery subquery = context.subquery(select.get(), SubqueryKind.IN);
      return new InSubquery(operands, subquery.block(), subquery.correlated());
    }
    if (!(in.getRightExpression() instanceof ExpressionList<?> list)) {
      Expression value = reader.expression(in.getRightExpression());
      return value.isConstant() && operands.size() == 1
          ? new InList(operands.get(0), List.of(value), true)
          : opaque(in, "IN of something that is no list");
    }
    if (list.isEmpty()) {
      return opaque(in, "empty list");
    }
    if (operands.size() == 1) {
      List<Expression> values = reader.expressions(list);
      return new InList(operands.get(0), values, mayExpand(values));
    }
    List<List<Expression>> rows = new ArrayList<>();
    for (net.sf.jsqlparser.expression.Expression member : list) {
      Optional<List<Expression>> row = row(member);
      if (row.isEmpty() || row.get().size() != operands.size()) {
        return opaque(in, "rows of different length");
      }
      rows.add(row.get());
    }
    return new RowInList(operands, rows);
  }

  /**
   * Named and numbered parameters may stand for several values; a plain {@code ?} among others
   * stands for one, and a lone one would hardly be written as IN.
   */
  private static boolean mayExpand(List<Expression> values) {
    return values.stream()
        .anyMatch(
            value ->
                value instanceof Parameter parameter
                    && (values.size() == 1 || !parameter.text().equals("?")));
  }

  private Predicate between(Between between) {
    if (between.isUsingSymmetric()) {
      return opaque(between, "BETWEEN SYMMETRIC");
    }
    Optional<List<Expression>> row = row(between.getLeftExpression());
    if (row.isPresent()) {
      return opaque(between, "BETWEEN of rows");
    }
    Expression value = reader.expression(between.getLeftExpression());
    Predicate both =
        new And(
            List.of(
                new Comparison(
                    value,
                    ComparisonOperator.GREATER_OR_EQUAL,
                    reader.expression(between.getBetweenExpressionStart())),
                new Comparison(
                    value,
                    ComparisonOperator.LESS_OR_EQUAL,
                    reader.expression(between.getBetweenExpressionEnd()))));
    return between.isNot() ? context.negated(both) : both;
  }

  /** Conditions on one value. */
  private Predicate test(net.sf.jsqlparser.expression.Expression parsed) {
    if (parsed instanceof IsNullExpression test) {
      Optional<List<Expression>> row = row(test.getLeftExpression());
      return row.isPresent()
          ? opaque(test, "NULL test of a row")
          : new NullTest(
              reader.expression(test.getLeftExpression()), test.isNot() || test.isUseNotNull());
    }
    if (parsed instanceof IsBooleanExpression test) {
      return truth(test);
    }
    if (parsed instanceof IsUnknownExpression test && test.getLeftExpression() instanceof Column) {
      return new NullTest(reader.expression(test.getLeftExpression()), test.isNot());
    }
    if (parsed instanceof JsonExpression json && isJsonCondition(json)) {
      ValueReader.requireOperator(json);
      return jsonComparison(json);
    }
    Expression value = reader.expression(parsed);
    return value instanceof OpaqueExpression opaque
        ? new OpaquePredicate(opaque.text(), opaque.read(), "condition without known structure")
        : new TruthTest(value, true, false);
  }

  /**
   * IS [NOT] TRUE and IS [NOT] FALSE. Below a NOT, where rows with NULL change sides, the test that
   * they fail is written out.
   */
  private Predicate truth(IsBooleanExpression test) {
    if (!(test.getLeftExpression() instanceof Column) && !test.isNot() && test.isTrue()) {
      Predicate inner = read(test.getLeftExpression());
      return negations == 0 ? inner : opaque(test, "truth test below NOT");
    }
    Expression operand = reader.expression(test.getLeftExpression());
    if (operand instanceof OpaqueExpression) {
      return opaque(test, "truth test of a condition");
    }
    if (test.isNot()) {
      return new TruthTest(operand, !test.isTrue(), true);
    }
    Predicate truth = new TruthTest(operand, test.isTrue(), false);
    return negations == 0 ? truth : new And(List.of(truth, new NullTest(operand, true)));
  }

  /**
   * JSqlParser takes {@code a ->> 'x' = 'y'} for the path {@code a ->> ('x' = 'y')}: true for such
   * a one.
   */
  static boolean isJsonCondition(JsonExpression json) {
    return json.getIdentList().get(json.getIdentList().size() - 1).getKey()
        instanceof BinaryExpression;
  }

  private Predicate jsonComparison(JsonExpression json) {
    int last = json.getIdentList().size() - 1;
    BinaryExpression tail = (BinaryExpression) json.getIdentList().get(last).getKey();
    JsonExpression path =
        new JsonExpression(
            json.getExpression(), new ArrayList<>(json.getIdentList().subList(0, last)));
    path.getIdentList()
        .add(Map.entry(tail.getLeftExpression(), json.getIdentList().get(last).getValue()));
    Optional<ComparisonOperator> operator = operator(tail);
    return operator.isEmpty()
        ? opaque(json, "operator " + tail.getStringExpression().strip())
        : compare(json, path, operator.get(), tail.getRightExpression());
  }

  private Predicate opaque(net.sf.jsqlparser.expression.Expression parsed, String reason) {
    return new OpaquePredicate(
        context.placeholder(parsed.toString()),
        OpaqueReader.columnsBelow(context, reader, parsed),
        reason);
  }
}
