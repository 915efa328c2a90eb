package dev.colonnade.query.sql;

import dev.colonnade.sql.Functions;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import net.sf.jsqlparser.expression.AnalyticExpression;
import net.sf.jsqlparser.expression.Expression;
import net.sf.jsqlparser.expression.Function;
import net.sf.jsqlparser.expression.MySQLGroupConcat;
import net.sf.jsqlparser.expression.NextValExpression;
import net.sf.jsqlparser.expression.RowConstructor;
import net.sf.jsqlparser.schema.Column;
import net.sf.jsqlparser.statement.select.ParenthesedSelect;
import net.sf.jsqlparser.statement.select.PlainSelect;
import net.sf.jsqlparser.statement.select.Select;
import net.sf.jsqlparser.statement.select.SelectItem;

/**
 * Finds the queries of which each row is one of the tables' joined rows, so that they can be read
 * as part of a query around them: nothing is grouped, ordered, made distinct, numbered or cut off.
 */
final class PlainQuery extends ValueVisitor {
  /** Functions that make several rows of one, or another value at each call. */
  private static final Set<String> MULTIPLYING = Set.of("unnest", "generate_series", "nextval");

  private boolean plain = true;

  private PlainQuery() {}

  /** The query, where it is such a one. */
  static Optional<PlainSelect> of(Select select) {
    Select inner =
        select instanceof ParenthesedSelect wrapper
                && (wrapper.getWithItemsList() == null || wrapper.getWithItemsList().isEmpty())
            ? QueryReader.unwrapped(wrapper)
            : select;
    return inner instanceof PlainSelect query && isPlain(query)
        ? Optional.of(query)
        : Optional.empty();
  }

  private static boolean isPlain(PlainSelect query) {
    boolean bare =
        query.getFromItem() != null
            && query.getDistinct() == null
            && query.getGroupBy() == null
            && query.getHaving() == null
            && query.getQualify() == null
            && query.getOrderByElements() == null
            && query.getLimit() == null
            && query.getOffset() == null
            && query.getFetch() == null
            && query.getTop() == null
            && query.getFirst() == null
            && query.getSkip() == null
            && query.getForMode() == null
            && query.getWindowDefinitions() == null
            && query.getOracleHierarchical() == null
            && query.getLateralViews() == null
            && (query.getIntoTables() == null || query.getIntoTables().isEmpty());
    if (!bare) {
      return false;
    }
    PlainQuery visitor = new PlainQuery();
    for (SelectItem<?> item : query.getSelectItems()) {
      item.getExpression().accept(visitor, null);
    }
    if (query.getWhere() != null) {
      PlainQuery where = new PlainQuery();
      query.getWhere().accept(new RowNumbers(where), null);
      return visitor.plain && where.plain;
    }
    return visitor.plain;
  }

  private void notPlain() {
    plain = false;
  }

  @Override
  public <S> Void visit(Function function, S context) {
    String name = function.getName().toLowerCase(Locale.ROOT);
    int arguments = function.getParameters() == null ? 0 : function.getParameters().size();
    if (Functions.isAggregate(name, arguments)
        || MULTIPLYING.contains(name)
        || !Functions.isDeterministic(name)) {
      notPlain();
    }
    return super.visit(function, context);
  }

  @Override
  public <S> Void visit(AnalyticExpression window, S context) {
    notPlain();
    return null;
  }

  @Override
  public <S> Void visit(MySQLGroupConcat concat, S context) {
    notPlain();
    return null;
  }

  @Override
  public <S> Void visit(NextValExpression next, S context) {
    notPlain();
    return null;
  }

  @Override
  public <S> Void visit(RowConstructor<? extends Expression> row, S context) {
    notPlain();
    return null;
  }

  @Override
  public <S> Void visit(ParenthesedSelect subquery, S context) {
    notPlain();
    return null;
  }

  @Override
  public <S> Void visit(Column column, S context) {
    if (isRowNumber(column)) {
      notPlain();
    }
    return null;
  }

  private static boolean isRowNumber(Column column) {
    return column.getTable() == null && column.getColumnName().equalsIgnoreCase("rownum");
  }

  /** Looks for Oracle's row numbers in a condition, which count rows and so cut them off. */
  private static final class RowNumbers extends ValueVisitor {
    private final PlainQuery query;

    private RowNumbers(PlainQuery query) {
      this.query = query;
    }

    @Override
    public <S> Void visit(Column column, S context) {
      if (isRowNumber(column)) {
        query.notPlain();
      }
      return null;
    }
  }
}
