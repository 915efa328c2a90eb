package dev.colonnade.sql;

import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.sql.ExpressionContext.SubqueryKind;
import java.util.LinkedHashSet;
import java.util.Set;
import net.sf.jsqlparser.expression.AnyComparisonExpression;
import net.sf.jsqlparser.expression.CastExpression;
import net.sf.jsqlparser.expression.Expression;
import net.sf.jsqlparser.expression.ExpressionVisitorAdapter;
import net.sf.jsqlparser.expression.Function;
import net.sf.jsqlparser.expression.JsonExpression;
import net.sf.jsqlparser.expression.TimezoneExpression;
import net.sf.jsqlparser.expression.TrimFunction;
import net.sf.jsqlparser.expression.operators.relational.ExistsExpression;
import net.sf.jsqlparser.expression.operators.relational.InExpression;
import net.sf.jsqlparser.schema.Column;
import net.sf.jsqlparser.statement.select.ParenthesedSelect;
import net.sf.jsqlparser.statement.select.Select;

/** Collects the columns below an expression whose own structure does not matter. */
final class OpaqueReader extends ExpressionVisitorAdapter<Void> {
  private final ExpressionContext context;
  private final ExpressionReader reader;

  /** Where the collection starts: itself opaque, so that only its parts are read. */
  private final Expression root;

  private final Set<ColumnRef> columns = new LinkedHashSet<>();

  private OpaqueReader(ExpressionContext context, ExpressionReader reader, Expression root) {
    this.context = context;
    this.reader = reader;
    this.root = root;
  }

  /** Every column below the expression, those that its subqueries take from outside included. */
  static Set<ColumnRef> columnsBelow(
      ExpressionContext context, ExpressionReader reader, Expression parsed) {
    OpaqueReader collector = new OpaqueReader(context, reader, parsed);
    parsed.accept(collector, null);
    return collector.columns;
  }

  private Void value(Expression parsed) {
    columns.addAll(reader.expression(parsed).columns());
    return null;
  }

  private Void condition(Expression parsed) {
    columns.addAll(reader.predicate(parsed).columns());
    return null;
  }

  @Override
  public <S> Void visit(Column column, S unused) {
    return value(column);
  }

  @Override
  public <S> Void visit(Function function, S unused) {
    return value(function);
  }

  @Override
  public <S> Void visit(CastExpression cast, S unused) {
    return cast == root ? super.visit(cast, unused) : value(cast);
  }

  @Override
  public <S> Void visit(JsonExpression json, S unused) {
    return json.getExpression().accept(this, unused);
  }

  @Override
  public <S> Void visit(TrimFunction trim, S unused) {
    return value(trim);
  }

  @Override
  public <S> Void visit(TimezoneExpression zoned, S unused) {
    return value(zoned);
  }

  @Override
  public <S> Void visit(ParenthesedSelect select, S unused) {
    return value(select);
  }

  @Override
  public <S> Void visit(Select select, S unused) {
    return value(select);
  }

  @Override
  public <S> Void visit(ExistsExpression exists, S unused) {
    return exists == root && ValueReader.subquery(exists.getRightExpression()).isEmpty()
        ? super.visit(exists, unused)
        : condition(exists);
  }

  @Override
  public <S> Void visit(InExpression in, S unused) {
    return in == root && ValueReader.subquery(in.getRightExpression()).isEmpty()
        ? super.visit(in, unused)
        : condition(in);
  }

  @Override
  public <S> Void visit(AnyComparisonExpression any, S unused) {
    columns.addAll(context.subquery(any.getSelect(), SubqueryKind.IN).correlated());
    return null;
  }
}
