package dev.colonnade.predicate;

import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Exists;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.Not;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.OpaquePredicate;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.RowComparison;
import dev.colonnade.predicate.Predicate.RowInList;
import dev.colonnade.predicate.Predicate.TruthTest;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.UnaryOperator;

/**
 * Replaces values throughout.
 *
 * @param value what becomes of each operand
 * @param column what becomes of the columns of a subquery or an opaque condition
 */
record PredicateMapper(UnaryOperator<Expression> value, UnaryOperator<ColumnRef> column)
    implements Predicate.Visitor<Predicate> {

  static PredicateMapper ofColumns(UnaryOperator<ColumnRef> replacement) {
    return new PredicateMapper(expression -> expression.map(replacement), replacement);
  }

  private List<Expression> all(List<Expression> expressions) {
    return expressions.stream().map(value).toList();
  }

  private Set<ColumnRef> each(Set<ColumnRef> columns) {
    Set<ColumnRef> result = new LinkedHashSet<>();
    columns.forEach(each -> result.add(column.apply(each)));
    return result;
  }

  @Override
  public Predicate comparison(Comparison it) {
    return new Comparison(value.apply(it.left()), it.operator(), value.apply(it.right()));
  }

  @Override
  public Predicate inList(InList it) {
    return new InList(value.apply(it.operand()), all(it.values()), it.openEnded());
  }

  @Override
  public Predicate inSubquery(InSubquery it) {
    return new InSubquery(all(it.operands()), it.block(), each(it.correlated()));
  }

  @Override
  public Predicate rowComparison(RowComparison it) {
    return new RowComparison(all(it.left()), it.operator(), all(it.right()));
  }

  @Override
  public Predicate rowInList(RowInList it) {
    return new RowInList(all(it.operands()), it.rows().stream().map(this::all).toList());
  }

  @Override
  public Predicate nullTest(NullTest it) {
    return new NullTest(value.apply(it.operand()), it.negated());
  }

  @Override
  public Predicate like(Like it) {
    return new Like(
        value.apply(it.operand()),
        value.apply(it.pattern()),
        it.wildcards(),
        it.caseInsensitive(),
        it.escape());
  }

  @Override
  public Predicate truthTest(TruthTest it) {
    return new TruthTest(value.apply(it.operand()), it.expected(), it.matchesNull());
  }

  @Override
  public Predicate exists(Exists it) {
    return new Exists(it.block(), each(it.correlated()));
  }

  @Override
  public Predicate and(And it) {
    return new And(it.parts().stream().map(part -> part.accept(this)).toList());
  }

  @Override
  public Predicate or(Or it) {
    return new Or(it.parts().stream().map(part -> part.accept(this)).toList());
  }

  @Override
  public Predicate not(Not it) {
    return new Not(it.part().accept(this));
  }

  @Override
  public Predicate opaque(OpaquePredicate it) {
    return new OpaquePredicate(it.text(), each(it.read()), it.reason());
  }
}
