package dev.colonnade.access;

import dev.colonnade.dialect.ComparisonRules.Conversion;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.Optional;
import java.util.function.Function;

/**
 * Sides of a comparison as seen from one table: its own values against values that are known when
 * it is read.
 *
 * @param table the table
 * @param columns a column of any other table of the query, where known
 * @param conversions what the database does where types differ
 */
record Operands(
    Table table, Function<ColumnRef, Optional<Column>> columns, Conversions conversions) {

  /** True for a value that depends on columns of this table only, and on one at least. */
  boolean isOwn(Expression expression) {
    return !expression.columns().isEmpty()
        && expression.columns().stream().allMatch(Operands::isSelf)
        && isStable(expression);
  }

  /** True for a value that does not depend on this table and stays the same during a scan. */
  boolean isForeign(Expression expression) {
    return expression.columns().stream().noneMatch(Operands::isSelf) && isStable(expression);
  }

  /** True for a column of the table itself. */
  static boolean isSelf(ColumnRef column) {
    return column.use() == ColumnRef.SELF;
  }

  private static boolean isStable(Expression expression) {
    if (expression instanceof Call call) {
      return call.deterministic() && call.arguments().stream().allMatch(Operands::isStable);
    }
    return !(expression instanceof OpaqueExpression);
  }

  /** True for the literal NULL: comparing with it selects nothing and bounds nothing. */
  static boolean isNull(Expression expression) {
    return expression instanceof Literal literal && literal.kind() == LiteralKind.NULL;
  }

  /** True when the value can hold NULL. */
  boolean isNullable(Expression value) {
    return value.columns().stream().anyMatch(column -> table.isNullable(column.column()));
  }

  /**
   * False where the database would have to convert the stored value before comparing, which no
   * index on the value survives. In doubt true for parameters, whose type the service chooses.
   */
  boolean isComparable(Expression own, Expression foreign) {
    Optional<Column> column =
        own instanceof ColumnRef it ? table.column(it.column()) : Optional.empty();
    Optional<Column> other = foreign instanceof ColumnRef it ? columns.apply(it) : Optional.empty();
    return column.isEmpty() || conversions.of(column.get(), foreign, other) == Conversion.VALUE;
  }

  /** The type of a column or literal; empty where unknown. */
  Optional<TypeFamily> family(Expression expression) {
    if (expression instanceof ColumnRef column) {
      return isSelf(column)
          ? table.column(column.column()).map(Column::type).map(type -> type.family())
          : columns.apply(column).map(Column::type).map(type -> type.family());
    }
    return expression instanceof Literal literal ? Conversions.familyOf(literal) : Optional.empty();
  }
}
