package dev.colonnade.schema;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * One part of an index key. The part at position 0 is the leading column.
 *
 * @param value the indexed value: a column of the table itself ({@link ColumnRef#SELF}) or an
 *     expression over such columns
 * @param descending true when stored in descending order
 * @param nulls where NULLs stand, if written
 * @param prefixLength number of leading characters indexed, where only these are
 * @param operatorClass the operator class named for the part, lower case ({@code text_pattern_ops})
 * @param collation the collation named for the part
 */
public record KeyColumn(
    Expression value,
    boolean descending,
    NullOrder nulls,
    OptionalInt prefixLength,
    Optional<String> operatorClass,
    Optional<String> collation) {

  /** An ascending column. */
  public static KeyColumn ascending(String column) {
    return of(ColumnRef.self(column), false);
  }

  /** A descending column. */
  public static KeyColumn descending(String column) {
    return of(ColumnRef.self(column), true);
  }

  /** A value in the given direction with nothing else said. */
  public static KeyColumn of(Expression value, boolean descending) {
    return new KeyColumn(
        value,
        descending,
        NullOrder.DEFAULT,
        OptionalInt.empty(),
        Optional.empty(),
        Optional.empty());
  }

  /** The plain column, or nothing for an expression. */
  public Optional<Identifier> column() {
    return value instanceof ColumnRef ref ? Optional.of(ref.column()) : Optional.empty();
  }

  /** The column name or the expression, with {@code desc} where descending. */
  public String render() {
    return value.render() + (descending ? " desc" : "");
  }
}
