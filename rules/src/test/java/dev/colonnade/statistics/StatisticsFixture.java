package dev.colonnade.statistics;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Expression.Parameter;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** A table of bookings with numbers, and short ways to write conditions over it. */
final class StatisticsFixture {
  static final SourceLocation HERE = SourceLocation.of("changelog.xml");
  static final Parameter PARAMETER = new Parameter("?");

  private StatisticsFixture() {}

  static Table bookings(Index... indexes) {
    return new Table(
        Identifier.of("booking"),
        Optional.empty(),
        List.of(
            Column.of("id", ColumnType.of("bigint", TypeFamily.BIG_INTEGER), false),
            Column.of("berth", ColumnType.of("int", TypeFamily.INTEGER), false),
            Column.of("vessel", ColumnType.of("bigint", TypeFamily.BIG_INTEGER), true),
            Column.of("arrival", ColumnType.of("date", TypeFamily.DATE), true),
            Column.of("status", varchar(12), true),
            Column.of("paid", ColumnType.of("boolean", TypeFamily.BOOLEAN), true),
            Column.of("remarks", ColumnType.of("text", TypeFamily.TEXT), true)),
        List.of(Identifier.of("id")),
        List.of(),
        Arrays.asList(indexes),
        HERE);
  }

  static ColumnType varchar(int length) {
    return new ColumnType(
        "varchar(" + length + ")", TypeFamily.TEXT, OptionalInt.of(length), OptionalInt.empty());
  }

  static Index index(String name, boolean unique, String... columns) {
    return Index.of(
        name, "booking", unique, Arrays.stream(columns).map(KeyColumn::ascending).toList(), HERE);
  }

  static Index primaryKey() {
    return index("booking_pk", true, "id").withOrigin(IndexOrigin.PRIMARY_KEY);
  }

  static TableStatistics rows(double rows, Object... namesAndStatistics) {
    Map<Identifier, ColumnStatistics> columns = new HashMap<>();
    for (int i = 0; i < namesAndStatistics.length; i += 2) {
      columns.put(
          Identifier.of((String) namesAndStatistics[i]),
          (ColumnStatistics) namesAndStatistics[i + 1]);
    }
    return new TableStatistics(OptionalDouble.of(rows), OptionalDouble.empty(), columns);
  }

  static ColumnStatistics between(String minimum, String maximum) {
    return new ColumnStatistics(
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Optional.of(minimum),
        Optional.of(maximum),
        Map.of(),
        OptionalDouble.empty());
  }

  static ColumnStatistics nulls(double share, double distinct, Map<String, Double> common) {
    return new ColumnStatistics(
        OptionalDouble.of(distinct),
        OptionalDouble.of(share),
        OptionalDouble.empty(),
        Optional.empty(),
        Optional.empty(),
        common,
        OptionalDouble.empty());
  }

  static Expression column(String name) {
    return ColumnRef.self(name);
  }

  static Literal number(String text) {
    return new Literal(text, LiteralKind.NUMBER);
  }

  static Literal text(String text) {
    return new Literal(text, LiteralKind.TEXT);
  }

  static Predicate compare(String column, ComparisonOperator operator, Expression value) {
    return new Comparison(column(column), operator, value);
  }

  static Predicate equal(String column) {
    return compare(column, ComparisonOperator.EQUAL, PARAMETER);
  }
}
