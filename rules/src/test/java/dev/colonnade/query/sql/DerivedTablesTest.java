package dev.colonnade.query.sql;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Derived tables, views and common table expressions, in the notation of {@link
 * StatementFixture#render}. What the planners themselves do with such queries is held against the
 * same reading in the test of this name among the planners.
 */
class DerivedTablesTest {
  private final StatementFixture harbour =
      StatementFixture.of(
          "postgresql",
          "vessel(id, name, length, flag, owner_id)",
          "booking(id, vessel_id, berth_id, status, starts_on, price)",
          "invoice(id, booking_id, amount, paid)");

  @Test
  void a_plain_one_is_read_as_part_and_needs_what_is_asked_for() {
    String sql =
        """
        select x.state, count(*) from (select status state, id, price from booking where price > 3) x
        where x.state = 'open' group by x.state\
        """;
    assertThat(harbour.render(sql))
        .isEqualTo("1 main: 1=booking | price > 3 {1} & status = 'open' {1} | 1.price 1.status");
    assertThat(harbour.on("h2").render(sql))
        .as("H2 works it out apart, with the conditions asked inside")
        .isEqualTo(
            """
            1 main: 2=block 2 x | state = 'open' {2} | 2.state
            2 derived-table in 1: 1=booking | price > 3 {1} & status = 'open' {1} | 1.id 1.price 1.status\
            """);
    assertThat(
            harbour
                .on("hsqldb")
                .render(
                    "select v.id from vessel v, ("
                        + "select id from booking where berth_id = 1) b where b.id = v.id"))
        .isEqualTo(
            """
            1 main: 1=vessel v, 3=block 2 b | id = id {1,3} | 1.id 3.id
            2 derived-table in 1: 2=booking | berth_id = 1 {2} | 2.berth_id 2.id\
            """);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '#',
      quoteCharacter = '~',
      textBlock =
          """
          # nested twice, renamed, joined inside and out
          select y.v from (select x.* from (select vessel_id v, status from booking) x where x.status = 'a') y where y.v = 5 # 1=booking | status = 'a' {1} & vessel_id = 5 {1} | 1.status 1.vessel_id
          select p.n from (select v.name, b.price from vessel v join booking b on b.vessel_id = v.id where b.price > 1) p(n, fee) join invoice i on i.amount = p.fee # 1=vessel v, 2=booking b, 3=invoice i | vessel_id = id {1,2} & price > 1 {2} & amount = price {2,3} | 1.id 1.name 2.price 2.vessel_id 3.amount
          select * from (select id, price * 2 twice from booking) d where d.twice > 8 # 1=booking | price * 2 > 8 {1} | 1.id 1.price
          # the inner side of an outer join: its condition restricts it, and a test for NULL does not
          select v.name from vessel v left join (select vessel_id, id from booking where status = 'a') b on b.vessel_id = v.id # 1=vessel v, 2=booking?<1 | status = 'a' {2} & vessel_id = id {2} | 1.id 1.name 2.status 2.vessel_id
          select v.name from vessel v left join (select vessel_id, id from booking where status = 'a') b on b.vessel_id = v.id where b.id is null # 1=vessel v, 2=booking?<1 | status = 'a' {2} & vessel_id = id {2} & id is null {} | 1.id 1.name 2.id 2.status 2.vessel_id
          select v.name from vessel v left join (select vessel_id, coalesce(price, 0) fee from booking) b on b.vessel_id = v.id where b.fee = 0 # 1=vessel v, 2=booking?<1 | vessel_id = id {2} & coalesce(price, 0) = 0 {} | 1.id 1.name 2.price 2.vessel_id
          # the condition inside makes an inner join of the outer one inside, and not of the one around
          select v.name from vessel v left join (select b.vessel_id from booking b left join invoice i on i.booking_id = b.id where i.paid = 1) x on x.vessel_id = v.id # 1=vessel v, 2=booking b?<1, 3=invoice i?<1 | booking_id = id {2,3} & paid = 1 {3} & vessel_id = id {2} | 1.id 1.name 2.id 2.vessel_id 3.booking_id 3.paid
          # a common table expression that is named once, and one that hides a table
          with b as (select vessel_id, id from booking where price > 3) select b.id from b where b.vessel_id = 5 # 1=booking | price > 3 {1} & vessel_id = 5 {1} | 1.id 1.price 1.vessel_id
          with booking as (select * from booking where price > 3) select id from booking where vessel_id = 5 # 1=booking | price > 3 {1} & vessel_id = 5 {1} | 1.id 1.price 1.vessel_id
          with a as (select id, status from booking), b as (select id from a where status = 'x') select id from b where id = 1 # 1=booking | status = 'x' {1} & id = 1 {1} | 1.id 1.status
          """)
  void read_as_part_of_the_query_around(String sql, String expected) {
    assertThat(harbour.render(sql)).isEqualTo("1 main: " + expected);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '#',
      quoteCharacter = '~',
      textBlock =
          """
          # on grouping columns, not on what is worked out of the groups
          select m from (select vessel_id v, max(price) m, status from booking group by vessel_id, status) d where d.v = 5 and d.m > 7 and status > 'a' # vessel_id = 5 {1} & status > 'a' {1}
          select m from (select max(price) m from booking) d where d.m > 7 #
          select d.id from (select distinct id, status from booking) d where d.status in ('a', 'b') # status in ('a', 'b') {1}
          # below no row limit
          select d.id from (select id, status from booking order by price limit 5) d where d.status = 'a' #
          select d.id from (select id, status from booking order by price) d where d.status = 'a' # status = 'a' {1}
          # on what every window is partitioned by
          select d.r from (select vessel_id, status, row_number() over (partition by vessel_id order by price) r from booking) d where d.vessel_id = 5 and d.status = 'a' and d.r = 1 # vessel_id = 5 {1}
          select d.r from (select vessel_id, row_number() over (order by price) r from booking) d where d.vessel_id = 5 #
          select d.id from (select distinct on (vessel_id) vessel_id, id from booking) d where d.vessel_id = 5 and d.id = 3 # vessel_id = 5 {1}
          # no subquery moves
          select d.id from (select distinct id, vessel_id from booking) d where d.vessel_id in (select id from vessel) or exists (select 1 from invoice i where i.booking_id = d.id) #
          # not where the outer join may add the row later
          select d.m from vessel v left join (select vessel_id, max(price) m from booking group by vessel_id) d on d.vessel_id = v.id and d.vessel_id > 3 # vessel_id > 3 {2}
          select d.m from vessel v left join (select vessel_id, max(price) m from booking group by vessel_id) d on d.vessel_id = v.id where d.vessel_id is null #
          # unsure: a column that the grouping columns decide without being one of them
          select d.m from (select id, status s, max(price) m from booking group by id) d where d.s = 'a' and d.id > 3 # id > 3 {1}
          # inside, a test for NULL picks no rows of a table that an outer join may leave out
          select d.m from (select v.flag f, b.status s, max(b.price) m from vessel v left join booking b on b.vessel_id = v.id group by v.flag, b.status) d where d.s is null and d.f = 'x' # vessel_id = id {2} & status is null {} & flag = 'x' {1}
          """)
  void conditions_go_down_where_they_may(String sql, String expected) {
    assertThat(StatementFixture.conditions(harbour.block(sql, 2)))
        .isEqualTo(expected == null ? "" : expected);
  }

  /** What RETURNING gives back is not asked of the table before (PostgreSQL 18 manual, 7.8.4). */
  @ParameterizedTest
  @CsvSource(
      delimiter = '#',
      quoteCharacter = '~',
      textBlock =
          """
          with gone as (delete from booking where status = 'x' returning *) insert into invoice (id, booking_id, amount) select g.id, g.vessel_id, g.price from gone g where g.price > 3 # 1 main: 2=block 2 g | price > 3 {2} | 2.id 2.price 2.vessel_id / 2 common-table-expression in 1: 1=booking! | status = 'x' {1} | 1.berth_id 1.id 1.price 1.starts_on 1.status 1.vessel_id
          with done as (update booking b set status = 'x' from vessel v where v.id = b.vessel_id returning b.id, v.name as who, new.price) select d.who from done d where d.id = 5 # 1 main: 3=block 2 d | id = 5 {3} | 3.id 3.who / 2 common-table-expression in 1: 1=booking b!, 2=vessel v | id = vessel_id {1,2} | 1.id 1.vessel_id 2.id 2.name
          with made as (insert into vessel (id, name) select b.id, 'x' from booking b where b.price = 1 returning id, upper(name)), all_made(n) as (select id from made) delete from invoice where booking_id in (select n from all_made) # 1 main: 2=invoice! | booking_id in (subquery) {2} | 2.booking_id / 2 common-table-expression in 1: 1=booking b | price = 1 {1} | 1.id 1.price / 3 in in 1: 3=block 2 made |  | 3.id
          with made as (insert into vessel (id) values (1) returning *) select flag from made # ~1 main: 1=block 2 made |  | 1.flag / 2 common-table-expression in 1:  |  | ~
          """)
  void a_change_of_rows_yields_what_it_returns(String sql, String expected) {
    assertThat(harbour.render(sql).replace("\n", " / ")).isEqualTo(expected);
  }

  @Test
  void conditions_go_down_into_each_operand() {
    String union =
        "(select id, status from booking where price > 1 union all select id, name from vessel)";
    assertThat(harbour.render("select d.id from " + union + " d where d.status = 'a' and d.id > 2"))
        .isEqualTo(
            """
            1 main: 3=block 2 d | status = 'a' {3} & id > 2 {3} | 3.id 3.status
            2 derived-table in 1: 1=booking | price > 1 {1} & status = 'a' {1} & id > 2 {1} | 1.id 1.price 1.status
            3 set-operand in 2: 2=vessel | name = 'a' {2} & id > 2 {2} | 2.id 2.name\
            """);
    String limited = union.replace(" vessel)", " vessel limit 9)");
    assertThat(harbour.render("select d.id from " + limited + " d where d.status = 'a'"))
        .endsWith("| 2.id 2.name")
        .doesNotContain("name = 'a'");
  }

  @Test
  void one_that_is_named_twice_is_worked_out_once_on_postgresql() {
    String sql =
        "with b as (select vessel_id, id from booking where price > 3)"
            + " select x.id from b x join b y on y.vessel_id = x.vessel_id where x.id = 5";
    assertThat(harbour.render(sql))
        .isEqualTo(
            """
            1 main: 2=block 2 x, 3=block 2 y | vessel_id = vessel_id {2,3} & id = 5 {2} | 2.id 2.vessel_id 3.vessel_id
            2 common-table-expression in 1: 1=booking | price > 3 {1} | 1.id 1.price 1.vessel_id\
            """);
    assertThat(harbour.on("mariadb").render(sql))
        .isEqualTo(
            "1 main: 1=booking, 2=booking | price > 3 {1} & price > 3 {2} & vessel_id = vessel_id"
                + " {1,2} & id = 5 {1} | 1.id 1.price 1.vessel_id 2.price 2.vessel_id");
  }

  @Test
  void views_over_views_are_read_as_part() {
    StatementFixture views =
        harbour
            .withView(
                "paid",
                "select b.id, b.vessel_id from booking b join invoice i on i.booking_id = b.id"
                    + " where i.paid = 1")
            .withView(
                "paid_by_vessel", "select vessel_id, count(*) n from paid group by vessel_id");
    assertThat(views.render("select v.name from vessel v join paid p on p.vessel_id = v.id"))
        .isEqualTo(
            "1 main: 1=vessel v, 2=booking b, 3=invoice i | booking_id = id {2,3} & paid = 1 {3} &"
                + " vessel_id = id {1,2} | 1.id 1.name 2.id 2.vessel_id 3.booking_id 3.paid");
    assertThat(views.render("select n from paid_by_vessel where vessel_id = 5"))
        .isEqualTo(
            """
            1 main: 3=block 2 paid_by_vessel | vessel_id = 5 {3} | 3.n 3.vessel_id
            2 derived-table in 1: 1=booking b, 2=invoice i | booking_id = id {1,2} & paid = 1 {2} & vessel_id = 5 {1} | 1.id 1.vessel_id 2.booking_id 2.paid\
            """);
  }

  @Test
  void names_inside_are_no_names_outside() {
    assertThat(harbour.reason("select b.id from (select b.id from booking b) d"))
        .isEqualTo("unknown table or alias b");
    assertThat(harbour.reason("select d.price from (select b.id from booking b) d"))
        .isEqualTo("unknown column d.price");
  }

  @Test
  void subqueries_inside_stay_below_the_query_around() {
    assertThat(
            harbour.render(
                "select d.id from (select id, vessel_id from booking where exists (select 1 from"
                    + " invoice i where i.booking_id = booking.id)) d where d.vessel_id = 5"))
        .isEqualTo(
            """
            1 main: 1=booking | exists (subquery) {1} & vessel_id = 5 {1} | 1.id 1.vessel_id
            2 exists in 1: 2=invoice i | booking_id = id {2} | 2.booking_id\
            """);
  }
}
