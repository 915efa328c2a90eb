package dev.colonnade.sql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.predicate.Expression.Parameter;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.OpaquePredicate;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ExpressionReaderTest {
  private final SqlParser parser = new SqlParser("postgresql");
  private final ExpressionReader reader = ExpressionReader.ofTable();

  private Expression value(String sql) {
    return reader.expression(parser.expression(sql));
  }

  private Predicate condition(String sql) {
    return reader.predicate(parser.expression(sql));
  }

  private String normalized(String sql) {
    return Conditions.conjuncts(condition(sql)).stream()
        .map(Predicate::render)
        .collect(Collectors.joining(" & "));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '~',
      textBlock =
          """
          a = 1                          | a = 1
          1 = a                          | a = 1
          5 > a                          | a < 5
          a != 3                         | a <> 3
          a <=> 3                        | a <=> 3
          a is not distinct from b       | a <=> b
          a is distinct from 3           | a is distinct from 3
          a between 1 and 2              | a >= 1 & a <= 2
          a not between 1 and 2          | (a < 1 or a > 2)
          not (a between 1 and 2)        | (a < 1 or a > 2)
          a in (1, 2)                    | a in (1, 2)
          a in (1)                       | a in (1)
          a in (1, 1)                    | a in (1, 1)
          a in (:list)                   | a in (?)
          a in :list                     | a in (?)
          a not in (1, 2)                | not (a in (1, 2))
          a = 1 or a = 2                 | a in (1, 2)
          a = any(array[1, 2])           | a in (1, 2)
          a = any(?)                     | a in (?)
          a = some(?)                    | a in (?)
          a <> all(array[1, 2])          | not (a in (1, 2))
          (a, b) = (1, 2)                | a = 1 & b = 2
          (a, b) > (1, 2)                | (a, b) > (1, 2)
          (1, 2) < (a, b)                | (a, b) > (1, 2)
          row(a, b) >= row(1, 2)         | (a, b) >= (1, 2)
          (a, b) in ((1, 2), (3, 4))     | (a, b) in ((1, 2), (3, 4))
          a is null                      | a is null
          a isnull                       | a is null
          a notnull                      | a is not null
          not (a is null)                | a is not null
          flag                           | flag
          not flag                       | not flag
          flag is true                   | flag
          flag is not true               | flag is not true
          flag is false                  | not flag
          not (flag is true)             | (not flag or flag is null)
          flag is unknown                | flag is null
          flag = true                    | flag = true
          a = 1 and (b = 2 and c = 3)    | a = 1 & b = 2 & c = 3
          not (a = 1 or b < 2)           | a <> 1 & b >= 2
          a like 'x%'                    | a like 'x%'
          a not like 'x%'                | not (a like 'x%')
          a ilike 'x%'                   | a ilike 'x%'
          a > current_date - interval '90' day | a > current_date() - interval '90' day
          lower(a) = 'x'                 | lower(a) = 'x'
          a::date = date '2020-01-01'    | cast(a as date) = 2020-01-01
          cast(a as numeric(10, 2)) = 1  | cast(a as numeric(10,2)) = 1
          a ->> 'x' = 'y'                | a ->> 'x' = 'y'
          a -> 'x' ->> 'y' = 'z'         | a -> 'x' ->> 'y' = 'z'
          (a ->> 'x') = 'y'              | a ->> 'x' = 'y'
          (a = 1) is true                | a = 1
          """)
  void reads_conditions(String sql, String expected) {
    assertThat(normalized(sql)).isEqualTo(expected);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "a similar to 'x%'",
        "a ~ '^foo'",
        "a rlike 'x'",
        "a @> b",
        "a xor b",
        "a > all(array[1])",
        "a between symmetric 1 and 2",
        "a in ()",
        "a like 'x' escape 'ab'",
        "case when a = 1 then b else c end",
        "(a = 1) is not true"
      })
  void keeps_the_columns_of_what_has_no_known_structure(String sql) {
    Predicate read = condition(sql);
    assertThat(read).isInstanceOf(OpaquePredicate.class);
    assertThat(read.columns()).contains(ColumnRef.self("a"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '~',
      textBlock =
          """
          5                              | 5                    | NUMBER
          -5                             | -5                   | NUMBER
          - 1.5                          | -1.5                 | NUMBER
          'it''s'                        | it's                 | TEXT
          N'x'                           | x                    | TEXT
          true                           | true                 | BOOLEAN
          date '2020-01-31'              | 2020-01-31           | DATE
          {d '2020-01-31'}               | 2020-01-31           | DATE
          time '10:00:00'                | 10:00:00             | TIME
          timestamp '2020-01-31 10:00:00'| 2020-01-31 10:00:00  | TIMESTAMP
          interval '3' month             | interval '3' month   | OTHER
          x'1F'                          | x'1F'                | OTHER
          """)
  void reads_literals(String sql, String text, LiteralKind kind) {
    assertThat(value(sql)).isEqualTo(new Literal(text, kind));
  }

  @Test
  void reads_null() {
    assertThat(value("null")).isEqualTo(new Literal("", LiteralKind.NULL));
  }

  @ParameterizedTest
  @ValueSource(strings = {"?", "?1", ":vessel", "$1", "@vessel", ":1"})
  void reads_parameters(String sql) {
    assertThat(value(sql)).isEqualTo(new Parameter(sql));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          random()             | false
          gen_random_uuid()    | false
          nextval('s')         | false
          next value for s     | false
          now()                | true
          current_timestamp    | true
          lower(a)             | true
          """)
  void tells_fixed_values_from_varying_ones(String sql, boolean deterministic) {
    assertThat(value(sql))
        .isInstanceOfSatisfying(
            Call.class, call -> assertThat(call.deterministic()).isEqualTo(deterministic));
  }

  @Test
  void keeps_the_columns_of_window_functions_and_cases() {
    assertThat(value("sum(a) over (partition by b order by c)"))
        .isInstanceOf(OpaqueExpression.class)
        .extracting(Expression::columns)
        .isEqualTo(java.util.Set.of(ColumnRef.self("a"), ColumnRef.self("b"), ColumnRef.self("c")));
    assertThat(value("case a when 1 then b else c end").columns())
        .containsExactlyInAnyOrder(ColumnRef.self("a"), ColumnRef.self("b"), ColumnRef.self("c"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          a in (:list)    | true
          a in :list      | true
          a in (#1, :x)   | true
          a in (?, ?)     | false
          a in (?)        | true
          a in (1, 2)     | false
          a = any(:list)  | true
          """)
  void knows_which_lists_may_grow(String sql, boolean openEnded) {
    assertThat(condition(sql.replace("#1", "?1")))
        .isInstanceOfSatisfying(
            InList.class, in -> assertThat(in.openEnded()).isEqualTo(openEnded));
  }

  @Test
  void reads_the_escape_character() {
    assertThat(condition("a like 'x!%%' escape '!'"))
        .isInstanceOfSatisfying(
            Like.class, like -> assertThat(like.literalPrefix()).contains("x%"));
  }

  @Test
  void asks_the_context_for_qualified_names() {
    ExpressionReader aliased =
        new ExpressionReader(
            (qualifier, name) ->
                new ColumnRef(
                    qualifier.equals(List.of(Identifier.of("b")).stream().findFirst()) ? 2 : 1,
                    name));
    assertThat(aliased.expression(parser.expression("harbour.b.\"Length\"")))
        .isEqualTo(new ColumnRef(2, Identifier.of("length")));
  }

  @Test
  void names_the_place_where_a_text_does_not_parse() {
    assertThatThrownBy(() -> parser.expression("a = 1\n  and (b = 2 order"))
        .isInstanceOfSatisfying(
            UnreadableSqlException.class,
            e -> {
              assertThat(e).hasMessage("SQL does not parse near 'order'");
              assertThat(e.line()).isEqualTo(2);
              assertThat(e.column()).isEqualTo(14);
            });
  }

  @Test
  void rejects_subqueries_where_there_can_be_none() {
    assertThatThrownBy(() -> condition("a in (select b from t)"))
        .isInstanceOf(UnreadableSqlException.class)
        .hasMessage("a subquery cannot stand here");
  }

  @Test
  void reads_long_chains_without_recursion() {
    String chain = "a = 0" + " or b = 1".repeat(5000);
    assertThat(normalized(chain)).isEqualTo("(a = 0 or b in (1, 1))");
  }
}
