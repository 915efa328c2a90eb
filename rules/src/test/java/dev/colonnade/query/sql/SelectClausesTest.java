package dev.colonnade.query.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.query.Aggregate;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.schema.NullOrder;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SelectClausesTest {
  private final StatementFixture harbour =
      StatementFixture.of(
          "postgresql",
          "vessel(id, name, length, flag)",
          "booking(id, vessel_id, status, starts_on, price)");

  private QueryBlock block(String sql) {
    return harbour.block(sql, 1);
  }

  private static List<String> rendered(List<Expression> expressions) {
    return expressions.stream().map(Expression::render).toList();
  }

  private static String order(QueryBlock block) {
    return block.orderBy().stream()
        .map(
            item ->
                item.expression().render()
                    + (item.descending() ? " desc" : "")
                    + (item.nulls() == NullOrder.DEFAULT ? "" : " nulls " + item.nulls()))
        .collect(Collectors.joining(", "));
  }

  /** ISO/IEC 9075-2, trim function: the character, the side, or both may be left out. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      textBlock =
          """
          trim(both from name) = :n                              ~ name
          trim(from name) = :n                                   ~ name
          trim(leading 'x' from name) = flag                     ~ flag, name
          case when trim(both from name) = 'a' then 1 end = 1    ~ name
          trim(both from (select max(b.status) from booking b where b.vessel_id = length)) = name ~ length, name
          """)
  void a_trim_in_a_condition(String condition, String columns) {
    assertThat(
            block("select id from vessel where " + condition).conjuncts().stream()
                .flatMap(it -> it.predicate().columns().stream())
                .map(it -> it.column().text())
                .distinct()
                .sorted()
                .collect(Collectors.joining(", ")))
        .isEqualTo(columns);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      textBlock =
          """
          select name from vessel order by name, id desc                 ~ name, id desc
          select name n from vessel order by n                           ~ name
          select v.* from vessel v join booking b on b.vessel_id = v.id order by id ~ id
          select name, length from vessel order by 2 desc, 1             ~ length desc, name
          select lower(name) name from vessel order by name              ~ lower(name)
          select length + 1 l from vessel order by l                     ~ length + 1
          select name from vessel order by name asc nulls first          ~ name nulls FIRST
          select name from vessel order by name desc nulls last          ~ name desc nulls LAST
          select flag, count(*) c from vessel group by flag order by c desc ~ count() desc
          select v.name from vessel v order by v.length                  ~ length
          select distinct on (flag) name from vessel                     ~ flag
          select distinct on (flag) name from vessel order by flag, length ~ flag, length
          """)
  void order_by(String sql, String expected) {
    assertThat(order(block(sql))).isEqualTo(expected);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      textBlock =
          """
          select flag from vessel group by flag                          ~ flag
          select flag f from vessel group by f                           ~ flag
          select flag, length from vessel group by 1, 2                  ~ flag, length
          select lower(name) l, count(*) from vessel group by l          ~ lower(name)
          select flag, name from vessel group by (flag, name)            ~ flag, name
          """)
  void group_by(String sql, String expected) {
    assertThat(String.join(", ", rendered(block(sql).groupBy()))).isEqualTo(expected);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      textBlock =
          """
          select flag, name from vessel group by rollup(flag, name)
          select flag, name from vessel group by flag, name with rollup
          select flag, name from vessel group by cube(flag, name)
          select flag, name from vessel group by grouping sets ((flag), (name))
          """)
  void groups_of_several_kinds_are_opaque(String sql) {
    assertThat(block(sql).groupBy()).hasSize(1).first().isInstanceOf(OpaqueExpression.class);
    assertThat(block(sql).groupBy().get(0).columns()).hasSize(2);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      nullValues = "none",
      textBlock =
          """
          select 1 from vessel                                           ~ none
          select 1 from vessel limit 10                                  ~ 10
          select 1 from vessel limit 10 offset 5                         ~ 15
          select 1 from vessel limit 5, 10                               ~ 15
          select 1 from vessel limit :n                                  ~ ?
          select 1 from vessel limit 10 offset ?                         ~ ?
          select 1 from vessel limit all                                 ~ none
          select 1 from vessel offset 5 rows fetch next 10 rows only     ~ 15
          select 1 from vessel fetch first 10 rows with ties             ~ 10
          select 1 from vessel fetch first row only                      ~ 1
          select 1 from vessel fetch first 10 percent rows only          ~ ?
          select top 10 name from vessel                                 ~ 10
          select top (:n) name from vessel                               ~ ?
          select top 10 percent name from vessel                         ~ ?
          select 1 from vessel where rownum <= 10                        ~ 10
          select 1 from vessel where rownum < 10 and id > 5              ~ 9
          select 1 from vessel where rownum = 1                          ~ 1
          select name from vessel where rownum <= 10 order by name       ~ none
          (select name from vessel) order by name limit 3                ~ 3
          """)
  void limit(String sql, String expected) {
    String actual =
        block(sql)
            .limit()
            .map(limit -> limit.rows().isPresent() ? "" + limit.rows().getAsLong() : "?")
            .orElse(null);
    assertThat(actual).isEqualTo(expected);
    assertThat(StatementFixture.conditions(block(sql))).doesNotContain("rownum");
  }

  @Test
  void aggregates() {
    QueryBlock block =
        block(
            "select count(*), count(distinct flag), min(length), coalesce(sum(length), 0),"
                + " case when max(id) > 5 then 1 end, avg(length) filter (where flag = 'x'),"
                + " sum(length) over (partition by flag), greatest(id, 1)"
                + " from vessel having count(name) > 3");
    assertThat(block.aggregates())
        .extracting(Aggregate::function)
        .containsExactly("count", "count", "min", "sum", "max", "avg", "count");
    assertThat(block.aggregates().get(0).arguments()).isEmpty();
    assertThat(block.aggregates().get(1).distinct()).isTrue();
  }

  @Test
  void having_on_grouping_columns_restricts_the_reading() {
    assertThat(
            StatementFixture.conditions(
                block(
                    "select flag, count(*) from vessel group by flag"
                        + " having flag = 'NL' and count(*) > 1 and max(flag) < 'x'")))
        .isEqualTo("flag = 'NL' {1}");
    assertThat(
            StatementFixture.conditions(
                block("select flag from vessel group by rollup(flag) having flag = 'NL'")))
        .isEmpty();
  }

  /** What a block reads; nothing is read twice. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      quoteCharacter = '°',
      textBlock =
          """
          select count(*) from vessel                                          ~ °°
          select 1 from vessel                                                 ~ °°
          select count(name) from vessel                                       ~ 1.name
          select * from vessel                                                 ~ 1.flag 1.id 1.length 1.name
          select v.* from vessel v, booking b                                  ~ 1.flag 1.id 1.length 1.name
          select 1 from vessel v join booking b on b.vessel_id = v.id          ~ 1.id 2.vessel_id
          select 1 from vessel v join booking b using (id)                     ~ 1.id 2.id
          select 1 from vessel order by name                                   ~ 1.name
          select 1 from vessel group by flag having max(length) > 5            ~ 1.flag 1.length
          select row_number() over (partition by flag order by length) from vessel ~ 1.flag 1.length
          select sum(length) over w from vessel window w as (order by id)      ~ 1.id 1.length
          select case when flag = 'x' then name else length end from vessel    ~ 1.flag 1.length 1.name
          select 1 from vessel v where exists (select * from booking b where b.vessel_id = v.id) ~ 1.id
          select 1 from vessel v where 1 = (select max(price + v.length) from booking b) ~ 1.length
          select (select max(b.price) from booking b where b.vessel_id = v.id) from vessel v ~ 1.id
          select v from vessel v                                               ~ 1.flag 1.id 1.length 1.name
          select 1 from vessel where (id, name) in (select id, status from booking) ~ 1.id 1.name
          """)
  void columns(String sql, String expected) {
    String actual =
        block(sql).columns().stream()
            .sorted()
            .map(column -> column.use() + "." + column.column())
            .collect(Collectors.joining(" "));
    assertThat(actual).isEqualTo(expected);
  }

  @Test
  void exists_has_no_projection_and_no_order() {
    QueryBlock exists =
        harbour.block(
            "select 1 from vessel v where exists (select b.price from booking b where b.vessel_id ="
                + " v.id order by b.price limit 1)",
            2);
    assertThat(exists.projection()).isEmpty();
    assertThat(exists.orderBy()).isEmpty();
    assertThat(StatementFixture.render(exists)).endsWith("| 2.vessel_id");
  }

  @Test
  void a_derived_table_sees_no_neighbours_unless_lateral() {
    String derived = "(select price from booking b where b.vessel_id = v.id) x";
    assertThat(harbour.reason("select 1 from vessel v, " + derived))
        .isEqualTo("unknown table or alias v");
    QueryBlock apart =
        harbour.on("h2").block("select 1 from vessel v, lateral " + derived, /* number= */ 1);
    assertThat(apart.from().get(1).after()).containsExactly(1);
    assertThat(StatementFixture.render(block("select 1 from vessel v, lateral " + derived)))
        .isEqualTo("1 main: 1=vessel v, 2=booking b | vessel_id = id {2} | 1.id 2.vessel_id");
  }

  @Test
  void a_lock_needs_the_rows_of_the_named_tables() {
    QueryBlock block =
        block("select v.name from vessel v join booking b on b.vessel_id = v.id for update of b");
    assertThat(block.tables()).extracting(TableUse::wholeRow).containsExactly(false, true);
  }

  @Test
  void an_unresolved_name_goes_outwards_before_it_fails() {
    assertThat(
            harbour.render(
                "select 1 from vessel where id in (select vessel_id from booking where price ="
                    + " length)"))
        .endsWith("2 in in 1: 2=booking | price = length {2} | 2.price 2.vessel_id");
    assertThat(
            harbour.reason(
                "select 1 from vessel where id in (select vessel_id from booking where price ="
                    + " lenght)"))
        .isEqualTo("unknown column lenght");
  }
}
