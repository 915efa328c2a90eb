package dev.colonnade.query.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.Query;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Columns named like a unit of time or a kind of value, as tables of figures often have them. */
final class UnitColumnsTest {
  private static Query query(String column, String sql) {
    SourceLocation place = SourceLocation.of("traffic.sql");
    Table table =
        new Table(
            Identifier.of("traffic"),
            Optional.empty(),
            Stream.of("berth", column)
                .map(
                    name ->
                        new Column(
                            Identifier.of(name),
                            ColumnType.of("integer", TypeFamily.INTEGER),
                            false,
                            Optional.empty()))
                .toList(),
            List.of(),
            List.of(),
            List.of(),
            place);
    StatementReading reading =
        new StatementParser(new Schema(List.of(table), List.of()), Dialects.h2())
            .parse(new QueryText("q", place, QuerySource.FILE, sql, sql));
    assertThat(reading).isInstanceOf(StatementReading.Analysed.class);
    return ((StatementReading.Analysed) reading).query();
  }

  private static boolean reads(String column, String sql) {
    return query(column, sql)
        .blocks()
        .get(0)
        .columns()
        .contains(new ColumnRef(1, Identifier.of(column)));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "year",
        "month",
        "day",
        "hour",
        "minute",
        "second",
        "week",
        "quarter",
        "date",
        "time",
        "timestamp",
        "value",
        "zone",
        "position",
        "rank",
        "level",
        "number",
        "blob",
        "double",
        "integer",
        "long",
        "precision",
        "absent"
      })
  void are_columns_wherever_they_stand(String column) {
    for (String sql :
        List.of(
            "select berth from traffic where berth = 1 and %s > 7",
            "select berth from traffic where %s in (1, 2)",
            "select berth from traffic where %s between ? and ?",
            "select berth from traffic where %s is null",
            "select berth from traffic where 1 + %s = 3",
            "select berth from traffic where %s = berth",
            "select berth from traffic order by %s",
            "select berth from traffic group by berth, %s",
            "select %s from traffic",
            "select sum(%s) from traffic",
            "select coalesce(%s, 0) from traffic",
            "update traffic set berth = %s + 1")) {
      assertThat(reads(column, sql.formatted(column))).as(sql, column).isTrue();
    }
  }

  /** PostgreSQL 18, appendix C: none of these words is reserved in front of a dot. */
  @ParameterizedTest
  @ValueSource(strings = {"blob", "bytea", "numeric", "settings", "script", "distinctrow"})
  void name_what_stands_for_a_table(String alias) {
    String sql =
        "select a.berth, %1$s.day from traffic a left join traffic %1$s on %1$s.berth = a.berth"
            + " where lower(%1$s.day) = ? order by %1$s.berth";

    assertThat(query("day", sql.formatted(alias)).blocks().get(0).columns())
        .contains(new ColumnRef(2, Identifier.of("day")));
  }

  @Test
  void types_stay_types() {
    String sql =
        "select cast(berth as bigint), cast(1 as varchar) from traffic"
            + " where cast(berth as blob) = ? and berth = cast(? as double precision)";

    assertThat(query("day", sql).blocks().get(0).columns())
        .containsExactly(new ColumnRef(1, Identifier.of("berth")));
  }

  @Test
  void in_the_first_argument_of_a_function_of_moments_they_are_units() {
    String sql = "select datediff(day, berth, day) from traffic where dateadd(day, 1, berth) > ?";
    List<Expression> values = query("day", sql).blocks().get(0).projection();

    assertThat(values.get(0).columns()).extracting(ColumnRef::column).hasSize(2);
    assertThat(query("day", sql).blocks().get(0).conjuncts().get(0).predicate().columns())
        .containsExactly(new ColumnRef(1, Identifier.of("berth")));
    assertThat(reads("month", "select date_trunc(month, berth) from traffic")).isFalse();
  }
}
