package dev.colonnade.query.sql;

import java.util.ArrayList;
import java.util.List;
import net.sf.jsqlparser.expression.AnalyticExpression;
import net.sf.jsqlparser.expression.AnalyticType;
import net.sf.jsqlparser.expression.Expression;

/** Finds the window functions in a value, subqueries aside. */
final class Windows extends ValueVisitor {
  private final List<AnalyticExpression> found = new ArrayList<>();

  private Windows() {}

  static List<AnalyticExpression> of(Expression value) {
    Windows windows = new Windows();
    value.accept(windows, null);
    return windows.found;
  }

  @Override
  public <S> Void visit(AnalyticExpression window, S unused) {
    if (window.getType() != AnalyticType.FILTER_ONLY) {
      found.add(window);
    }
    return null;
  }
}
