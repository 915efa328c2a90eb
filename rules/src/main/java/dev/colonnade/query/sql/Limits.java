package dev.colonnade.query.sql;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.query.Limit;
import java.util.Optional;
import java.util.OptionalLong;
import net.sf.jsqlparser.expression.AllValue;
import net.sf.jsqlparser.expression.Expression;
import net.sf.jsqlparser.expression.LongValue;
import net.sf.jsqlparser.expression.NullValue;
import net.sf.jsqlparser.expression.operators.relational.ParenthesedExpressionList;
import net.sf.jsqlparser.statement.select.PlainSelect;
import net.sf.jsqlparser.statement.select.Select;

/** Reads the many ways to ask for the first rows only. */
final class Limits {
  private Limits() {}

  /** LIMIT, OFFSET, FETCH FIRST, TOP and FIRST. */
  static Optional<Limit> of(PlainSelect select) {
    if (select.getTop() != null) {
      return Optional.of(
          select.getTop().isPercentage()
              ? unknown()
              : new Limit(number(select.getTop().getExpression())));
    }
    if (select.getFirst() != null) {
      Long rows = select.getFirst().getRowCount();
      return Optional.of(rows == null ? unknown() : new Limit(OptionalLong.of(rows)));
    }
    return ofQuery(select);
  }

  /** LIMIT, OFFSET and FETCH FIRST. */
  static Optional<Limit> ofQuery(Select select) {
    OptionalLong offset = OptionalLong.of(0);
    if (select.getOffset() != null) {
      offset = number(select.getOffset().getOffset());
    }
    if (select.getFetch() != null) {
      boolean percent =
          select.getFetch().getFetchParameters() != null
              && select.getFetch().getFetchParameters().stream()
                  .anyMatch(word -> word.toLowerCase(java.util.Locale.ROOT).contains("percent"));
      return Optional.of(
          percent ? unknown() : sum(rows(select.getFetch().getExpression()), offset));
    }
    return select.getLimit() == null ? Optional.empty() : of(select.getLimit(), offset);
  }

  /** The LIMIT clause of any statement. */
  static Optional<Limit> of(net.sf.jsqlparser.statement.select.Limit limit, OptionalLong offset) {
    Expression rows = limit.getRowCount();
    if (rows == null || rows instanceof AllValue || rows instanceof NullValue) {
      return Optional.empty();
    }
    OptionalLong skipped = limit.getOffset() == null ? offset : number(limit.getOffset());
    return Optional.of(sum(number(rows), skipped));
  }

  private static Limit sum(OptionalLong rows, OptionalLong offset) {
    return rows.isPresent() && offset.isPresent()
        ? new Limit(OptionalLong.of(rows.getAsLong() + offset.getAsLong()))
        : unknown();
  }

  private static Limit unknown() {
    return new Limit(OptionalLong.empty());
  }

  /** The number, if it is one that a count of rows can have. */
  static OptionalLong number(LongValue literal) {
    return literal.getBigIntegerValue().bitLength() < Long.SIZE - 2
        ? OptionalLong.of(literal.getValue())
        : OptionalLong.empty();
  }

  /** FETCH FIRST ROW ONLY names no number and means one. */
  private static OptionalLong rows(Expression written) {
    return written == null ? OptionalLong.of(1) : number(written);
  }

  private static OptionalLong number(Expression expression) {
    if (expression instanceof ParenthesedExpressionList<?> list && list.size() == 1) {
      return number(list.get(0));
    }
    return expression instanceof LongValue number ? number(number) : OptionalLong.empty();
  }

  /**
   * Oracle's {@code rownum <= n}. It counts rows before they are ordered (Oracle SQL Language
   * Reference, "ROWNUM Pseudocolumn"), so beside an ORDER BY of the same block it is no limit on
   * the ordered rows and none is stated.
   */
  static void rowNumberLimit(BlockBuilder block) {
    for (Predicate conjunct : block.conditions()) {
      if (conjunct instanceof Comparison comparison
          && comparison.left() instanceof Call call
          && call.name().equals("rownum")
          && comparison.right().isConstant()) {
        block.removeCondition(conjunct);
        if (block.limit().isEmpty() && block.orderBy().isEmpty()) {
          block.limit(Optional.of(new Limit(rows(comparison))));
        }
      }
    }
  }

  private static OptionalLong rows(Comparison comparison) {
    boolean bounded =
        comparison.operator() == ComparisonOperator.LESS
            || comparison.operator() == ComparisonOperator.LESS_OR_EQUAL
            || comparison.operator() == ComparisonOperator.EQUAL;
    if (bounded
        && comparison.right() instanceof Literal literal
        && literal.kind() == LiteralKind.NUMBER
        && literal.text().matches("\\d{1,18}")) {
      long number = Long.parseLong(literal.text());
      return OptionalLong.of(
          comparison.operator() == ComparisonOperator.LESS ? number - 1 : number);
    }
    return OptionalLong.empty();
  }
}
