package dev.colonnade.query.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.StatementKind;
import dev.colonnade.schema.Schema;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StatementParserTest {
  private final StatementFixture harbour =
      StatementFixture.of(
          "postgresql",
          "vessel(id, name, length, flag, owner_id)",
          "berth(id, harbour_id, name, length)",
          "booking(id, vessel_id, berth_id, status, starts_on, price)",
          "invoice(id, booking_id, amount, paid)");

  /** Notation of {@link StatementFixture#render(QueryBlock)}. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '#',
      quoteCharacter = '~',
      textBlock =
          """
          select name from vessel where id = 5              # 1 main: 1=vessel | id = 5 {1} | 1.id 1.name
          select count(*) from vessel                       # 1 main: 1=vessel |  |~~
          select v.name from vessel v where 5 < v.length    # 1 main: 1=vessel v | length > 5 {1} | 1.length 1.name
          select 1 from harbour.vessel where vessel.id = :x # 1 main: 1=vessel | id = ? {1} | 1.id
          select * from berth                               # 1 main: 1=berth |  | 1.harbour_id 1.id 1.length 1.name
          select length l from berth order by l             # 1 main: 1=berth |  | 1.length
          select name from "Vessel" where FLAG = 'NL'       # 1 main: 1=vessel Vessel | FLAG = 'NL' {1} | 1.FLAG 1.name
          """)
  void reads_single_tables(String sql, String expected) {
    assertThat(harbour.render(sql).strip()).isEqualTo(expected.replace("~", "").strip());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '#',
      quoteCharacter = '~',
      textBlock =
          """
          from vessel v join booking b on b.vessel_id = v.id                                # 1=vessel v, 2=booking b | vessel_id = id {1,2}
          from vessel v, booking b where b.vessel_id = v.id                                 # 1=vessel v, 2=booking b | vessel_id = id {1,2}
          from vessel v cross join booking b                                                # 1=vessel v, 2=booking b |~ ~
          from vessel v left join booking b on b.vessel_id = v.id and b.status = 'a'        # 1=vessel v, 2=booking b?<1 | vessel_id = id {2} & status = 'a' {2}
          from vessel v left join booking b on b.vessel_id = v.id and v.flag = 'NL'         # 1=vessel v, 2=booking b?<1 | vessel_id = id {2} & flag = 'NL' {}
          from vessel v left join booking b on b.vessel_id = v.id where v.flag = 'NL'       # 1=vessel v, 2=booking b?<1 | vessel_id = id {2} & flag = 'NL' {1}
          from vessel v left join booking b on b.vessel_id = v.id where b.id is null        # 1=vessel v, 2=booking b?<1 | vessel_id = id {2} & id is null {}
          from vessel v left join booking b on b.vessel_id = v.id where b.status = 'a'      # 1=vessel v, 2=booking b | vessel_id = id {1,2} & status = 'a' {2}
          from booking b right join vessel v on b.vessel_id = v.id                          # 1=booking b?<2, 2=vessel v | vessel_id = id {1}
          from vessel v full join booking b on b.vessel_id = v.id                           # 1=vessel v?, 2=booking b?<1 | vessel_id = id {}
          from vessel v full join booking b on b.vessel_id = v.id where v.flag = 'NL'       # 1=vessel v, 2=booking b?<1 | vessel_id = id {2} & flag = 'NL' {1}
          from vessel v left join (booking b join invoice i on i.booking_id = b.id) on b.vessel_id = v.id # 1=vessel v, 2=booking b?<1, 3=invoice i?<1 | booking_id = id {2,3} & vessel_id = id {2}
          from vessel v left join booking b on b.vessel_id = v.id join invoice i on i.booking_id = b.id   # 1=vessel v, 2=booking b, 3=invoice i | vessel_id = id {1,2} & booking_id = id {2,3}
          from vessel v left join booking b on b.vessel_id = v.id left join invoice i on i.booking_id = b.id # 1=vessel v, 2=booking b?<1, 3=invoice i?<2 | vessel_id = id {2} & booking_id = id {3}
          from vessel v join berth b using (length)                                         # 1=vessel v, 2=berth b | length = length {1,2}
          from vessel natural join berth                                                    # 1=vessel, 2=berth | id = id {1,2} & name = name {1,2} & length = length {1,2}
          """)
  void reads_joins(String from, String expected) {
    QueryBlock block = harbour.block("select 1 " + from, 1);
    String items =
        block.from().stream()
            .map(StatementFixture::render)
            .collect(java.util.stream.Collectors.joining(", "));
    assertThat(items + " | " + StatementFixture.conditions(block))
        .isEqualTo(expected.replace("~", "").strip() + (expected.endsWith("~") ? " " : ""));
  }

  @Test
  void reads_subqueries_as_blocks_of_their_own() {
    assertThat(
            harbour.render(
                """
                select name from vessel
                where id in (select vessel_id from booking where berth_id = 5)
                  and length > (select avg(length) from vessel v2 where v2.flag = vessel.flag)
                  and exists (select * from invoice where invoice.id = vessel.owner_id)\
                """))
        .isEqualTo(
            """
            1 main: 1=vessel | id in (subquery) {1} & length > (subquery) {1} & exists (subquery) {1} | 1.flag 1.id 1.length 1.name 1.owner_id
            2 in in 1: 2=booking | berth_id = 5 {2} | 2.berth_id 2.vessel_id
            3 scalar in 1: 3=vessel v2 | flag = flag {3} | 3.flag 3.length
            4 exists in 1: 4=invoice | id = owner_id {4} | 4.id\
            """);
  }

  @Test
  void reads_common_tables_once() {
    assertThat(
            harbour.render(
                """
                with income as (select vessel_id, sum(price) total from booking group by vessel_id)
                select a.total from income a join income b on a.vessel_id = b.vessel_id\
                """))
        .isEqualTo(
            """
            1 main: 2=block 2 a, 3=block 2 b | vessel_id = vessel_id {2,3} | 2.total 2.vessel_id 3.vessel_id
            2 common-table-expression in 1: 1=booking |  | 1.price 1.vessel_id\
            """);
  }

  @Test
  void reads_recursive_common_tables() {
    assertThat(
            harbour.render(
                """
                with recursive fleet(n) as (
                  select id from vessel where owner_id is null
                  union all
                  select v.id from vessel v join fleet on v.owner_id = fleet.n)
                select n from fleet\
                """))
        .isEqualTo(
            """
            1 main: 4=block 2 fleet |  | 4.n
            2 common-table-expression in 1: 1=vessel | owner_id is null {1} | 1.id 1.owner_id
            3 set-operand in 2: 2=vessel v, 3=block 2 fleet | owner_id = n {2,3} | 2.id 2.owner_id 3.n\
            """);
  }

  @Test
  void reads_set_operations_as_blocks_side_by_side() {
    String sql =
        "select name n from vessel where id = 1 union select name from berth where id = 2"
            + " order by n limit 5";
    assertThat(harbour.render(sql))
        .isEqualTo(
            """
            1 main: 1=vessel | id = 1 {1} | 1.id 1.name
            2 set-operand in 1: 2=berth | id = 2 {2} | 2.id 2.name\
            """);
    assertThat(harbour.query(sql).blocks())
        .allSatisfy(
            block -> {
              assertThat(block.orderBy()).isEmpty();
              assertThat(block.limit()).isEmpty();
            });
  }

  @Test
  void expands_views() {
    StatementFixture withView =
        harbour.withView(
            "open_booking", "select id, vessel_id v from booking where status = 'open'");
    assertThat(withView.render("select v from open_booking where id = 5"))
        .isEqualTo(
            """
            1 main: 1=booking | status = 'open' {1} & id = 5 {1} | 1.id 1.status 1.vessel_id\
            """);
    assertThat(harbour.withView("plan", "select nothing from booking").reason("select * from plan"))
        .isEqualTo("view plan: unknown column nothing");
    assertThat(harbour.withView("loop", "select * from loop").reason("select * from loop"))
        .isEqualTo("view loop: the view loop reads itself");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '#',
      quoteCharacter = '~',
      textBlock =
          """
          update booking set status = 'x', price = price * 2 where id = ?              # UPDATE # 1=booking!                    # id = ? {1} # 1.id 1.price
          update booking b set price = v.length from vessel v where v.id = b.vessel_id # UPDATE # 1=booking b!, 2=vessel v      # id = vessel_id {1,2} # 1.vessel_id 2.id 2.length
          update b set price = 1 from booking b join vessel v on v.id = b.vessel_id    # UPDATE # 1=booking b!, 2=vessel v      # id = vessel_id {1,2} # 1.vessel_id 2.id
          update booking b join vessel v on v.id = b.vessel_id set b.price = v.length  # UPDATE # 1=booking b!, 2=vessel v      # id = vessel_id {1,2} # 1.vessel_id 2.id 2.length
          update booking b join vessel v on v.id = b.vessel_id set v.name = b.status   # UPDATE # 1=booking b, 2=vessel v!      # id = vessel_id {1,2} # 1.status 1.vessel_id 2.id
          delete from booking where starts_on < current_date                           # DELETE # 1=booking!                    # starts_on < current_date() {1} # 1.starts_on
          delete from booking b using vessel v where v.id = b.vessel_id                # DELETE # 1=booking b!, 2=vessel v      # id = vessel_id {1,2} # 1.vessel_id 2.id
          delete b from booking b join vessel v on v.id = b.vessel_id                  # DELETE # 1=booking b!, 2=vessel v      # id = vessel_id {1,2} # 1.vessel_id 2.id
          insert into booking (vessel_id) select id from vessel where flag = ?         # INSERT # 1=vessel                      # flag = ? {1} # 1.flag 1.id
          merge into vessel v using booking b on v.id = b.vessel_id when matched then update set name = b.status # MERGE # 1=booking b, 2=vessel v! # id = vessel_id {1,2} # 1.status 1.vessel_id 2.id
          merge into vessel v using booking b on v.id = b.vessel_id when not matched then insert (id) values (b.vessel_id) # MERGE # 1=booking b, 2=vessel v?<1! # id = vessel_id {2} # 1.vessel_id 2.id
          select name from vessel where id = 1 for update                              # SELECT # 1=vessel!                     # id = 1 {1} # 1.id 1.name
          """)
  void reads_statements_that_change_or_lock_rows(
      String sql, StatementKind kind, String from, String conditions, String columns) {
    Query query = harbour.query(sql);
    assertThat(query.kind()).isEqualTo(kind);
    assertThat(StatementFixture.render(query.blocks().get(0)))
        .isEqualTo("1 main: " + from + " | " + conditions + " | " + columns);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '#',
      quoteCharacter = '~',
      textBlock =
          """
          select * from pier                        # unknown table pier
          select lenght from berth                  # unknown column lenght
          select b.lenght from berth b              # unknown column berth.lenght
          select x.length from berth b              # unknown table or alias x
          select name from berth, vessel            # ambiguous column name
          update pier set x = 1                     # unknown table pier
          update berth set lenght = 1               # unknown column lenght
          insert into pier values (1)               # unknown table pier
          insert into berth (id, lenght) values (1, 2) # unknown column lenght
          insert into berth (lenght) select id from vessel # unknown column lenght
          merge into berth b using vessel v on b.id = v.id when matched then update set lenght = 1 # unknown column lenght
          merge into berth b using vessel v on b.id = v.id when not matched then insert (lenght) values (1) # unknown column lenght
          select 1; select 2                        # 2 statements in one text
          create table x (a int)                    # not a query or a change of rows
          select * from berth where id = = 5        # SQL does not parse near '5' at 10:34
          select * from berth where                 # SQL ends too early at 10:25
          select * from ${table}                    # SQL does not parse near '${table}' at 10:15
          select * from berth where name = 'abc     # SQL has an open string, or a character that cannot stand there, at 10:38
          select * from berth where ctid = 'x'      # the row address ctid is not modelled
          with x as (delete from berth returning lenght) select * from x # unknown column lenght
          with x as (delete from berth returning id) select name from x # unknown column name
          """)
  void says_why_a_statement_is_not_analysed(String sql, String reason) {
    assertThat(harbour.reason(sql)).isEqualTo(reason);
  }

  @Test
  void names_the_line_of_the_file() {
    assertThat(harbour.reason("select *\nfrom berth\nwhere id = = 5"))
        .isEqualTo("SQL does not parse near '5' at 12:14");
  }

  /** An annotation on line 10 whose text block begins on line 11, and one put together of parts. */
  @Test
  void names_the_line_of_the_source_where_it_is_known() {
    String sql = "select *\nfrom berth\nwhere id = = 5";
    SourceLocation annotation = SourceLocation.of("Berths.java", 10);

    assertThat(
            reason(
                new QueryText(
                    "Berths.all",
                    annotation,
                    QuerySource.ANNOTATION,
                    sql,
                    sql,
                    OptionalInt.of(11))))
        .isEqualTo("SQL does not parse near '5' at line 13");
    assertThat(reason(new QueryText("Berths.all", annotation, QuerySource.ANNOTATION, sql, sql)))
        .isEqualTo("SQL does not parse near '5' in line 3 of its text");
  }

  private static String reason(QueryText text) {
    StatementReading reading = new StatementParser(Schema.EMPTY, Dialects.postgresql()).parse(text);
    return ((StatementReading.NotAnalysed) reading).query().reason();
  }

  @Test
  void mysqls_binary_says_by_which_collation_is_compared() {
    StatementFixture mysql = harbour.on("mysql");
    assertThat(
            mysql.render("select id from vessel where name = binary #{x} and binary flag = 'NL'"))
        .isEqualTo(
            mysql.render(
                "select id from vessel where name = #{x} collate `binary`"
                    + " and flag collate `binary` = 'NL'"))
        .contains("binary");
  }

  @Test
  void mysqls_convert_to_a_type_is_a_cast() {
    StatementFixture mysql = harbour.on("mysql");
    assertThat(mysql.render("select id from vessel where convert(name, signed) = :x"))
        .isEqualTo(mysql.render("select id from vessel where cast(name as signed) = :x"));
  }

  @Test
  void the_databases_own_tables_are_none_of_the_services() {
    assertThat(harbour.query("select c.relname from pg_class c where c.relname = :x"))
        .satisfies(query -> assertThat(query.blocks()).allMatch(block -> block.tables().isEmpty()));
    assertThat(
            harbour.render(
                "select v.id from vessel v where exists (select 1 from information_schema.tables t"
                    + " where t.table_name = v.name)"))
        .contains("1=vessel v");
    assertThat(
            harbour
                .query("select extversion from pg_extension, pg_namespace where extname = :x")
                .blocks()
                .get(0)
                .conjuncts())
        .hasSize(1);
    assertThat(harbour.read("select * from pg_class2x.tables"))
        .isInstanceOf(StatementReading.NotAnalysed.class);
  }

  @Test
  void a_name_and_a_parameter_without_an_operator_are_no_condition() {
    assertThat(harbour.read("select id from vessel where id = 1 and length #{x} and name = 'x'"))
        .isInstanceOf(StatementReading.NotAnalysed.class);
  }
}
