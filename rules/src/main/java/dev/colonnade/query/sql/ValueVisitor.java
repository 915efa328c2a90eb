package dev.colonnade.query.sql;

import java.util.Objects;
import java.util.stream.Stream;
import net.sf.jsqlparser.expression.ExpressionVisitorAdapter;
import net.sf.jsqlparser.expression.TrimFunction;
import net.sf.jsqlparser.statement.select.ParenthesedSelect;

/** Goes through a value or a condition, not into its subqueries. */
abstract class ValueVisitor extends ExpressionVisitorAdapter<Void> {
  @Override
  public <S> Void visit(TrimFunction trim, S context) {
    Stream.of(trim.getExpression(), trim.getFromExpression())
        .filter(Objects::nonNull)
        .forEach(part -> part.accept(this, context));
    return null;
  }

  @Override
  public <S> Void visit(ParenthesedSelect select, S context) {
    return null;
  }
}
