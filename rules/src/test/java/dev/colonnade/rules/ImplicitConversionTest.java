package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Severity;
import org.junit.jupiter.api.Test;

class ImplicitConversionTest {
  private static final RuleTester PILOT =
      RuleTester.of(new ImplicitConversion())
          .table(
              "pilot",
              "id bigint not null primary key, licence varchar(20) not null, grade integer not"
                  + " null, born_on date, name varchar(60)")
          .index("ix_licence", "pilot (licence)")
          .index("ix_grade", "pilot (grade)")
          .index("ix_born", "pilot (born_on)");

  /** MySQL 8.4 manual, "Type Conversion in Expression Evaluation". */
  @Test
  void mysql_converts_the_text_column() {
    PILOT
        .on(Dialects.mysql())
        .query("select name from pilot where licence = 4711")
        .reports("full-table-scan pilot", "ix_licence(licence): in the order of varchar(20)");
    PILOT
        .on(Dialects.mysql())
        .query("select name from pilot where licence in (4711, 4712)")
        .reports("the column is what gets converted");
    PILOT.on(Dialects.mysql()).query("select name from pilot where grade = '3'").staysSilent();
    PILOT.on(Dialects.mysql()).query("select name from pilot where licence = '7'").staysSilent();
  }

  /** Oracle, SQL Server, H2, HSQLDB likewise; SQLite converts the literal (datatype3.html, 4.2). */
  @Test
  void others_follow_their_own_rules() {
    String sql = "select name from pilot where licence = 4711";
    PILOT.on(Dialects.oracle()).query(sql).reports("the column is what gets converted");
    PILOT.on(Dialects.mssql()).query(sql).reports("the column is what gets converted");
    PILOT.on(Dialects.h2()).query(sql).reports("the column is what gets converted");
    PILOT.on(Dialects.hsqldb()).query(sql).reports("the column is what gets converted");
    PILOT.on(Dialects.sqlite()).query(sql).staysSilent();
  }

  /** Observed on PostgreSQL 18.6: operator does not exist: character varying = integer. */
  @Test
  void postgresql_rejects_what_others_convert() {
    PILOT
        .query("select name from pilot where licence = 4711")
        .reports("PostgreSQL does not compare licence with a value of this type");
    PILOT.query("select name from pilot where grade = '3'").staysSilent();
    PILOT.query("select name from pilot where born_on = '1990-01-01'").staysSilent();
  }

  /** Observed on PostgreSQL 18.6 (filter on (n)::numeric) and H2; not on HSQLDB and SQLite. */
  @Test
  void a_fraction_makes_whole_numbers_convert() {
    String sql = "select name from pilot where grade = 3.0";
    PILOT.query(sql).reports("full-table-scan pilot", "ix_grade(grade): in the order of integer");
    PILOT.on(Dialects.h2()).query(sql).reports("full-table-scan");
    PILOT.on(Dialects.hsqldb()).query(sql).staysSilent();
    PILOT.on(Dialects.sqlite()).query(sql).staysSilent();
    PILOT.query("select name from pilot where grade = 3").staysSilent();
  }

  @Test
  void columns_of_two_collations_do_not_meet_in_an_index() {
    RuleTester two =
        RuleTester.of(new ImplicitConversion())
            .ddl(
                "create table vessel (id bigint primary key, code varchar(9) collate \"C\" not"
                    + " null, name varchar(60) collate \"C\")")
            .index("ix_code", "vessel (code)");
    two.ddl("create table call (id bigint primary key, code varchar(9) collate \"de_DE\")")
        .rows("call", 10)
        .rows("vessel", 1_000_000)
        .query("select v.name from call c join vessel v on v.code = c.code")
        .reports("give both columns one type and one collation");
    two.ddl("create table call (id bigint primary key, code varchar(9) collate \"C\")")
        .rows("call", 10)
        .rows("vessel", 1_000_000)
        .query("select v.name from call c join vessel v on v.code = c.code")
        .staysSilent();
  }

  @Test
  void a_column_that_no_index_leads_with_loses_nothing() {
    PILOT.on(Dialects.mysql()).query("select id from pilot where name = 5").staysSilent();
  }

  @Test
  void the_type_of_a_parameter_is_the_services_affair() {
    PILOT.on(Dialects.mysql()).query("select name from pilot where licence = ?").staysSilent();
    PILOT.query("select name from pilot where licence = ?").staysSilent();
  }

  /** Microsoft JDBC driver: sendStringParametersAsUnicode is true by default. */
  @Test
  void national_parameters_are_spoken_of_once() {
    RuleTester twice =
        PILOT
            .on(Dialects.mssql())
            .query("select name from pilot where licence = ?")
            .query("select id, name from pilot where licence = ? and grade = ?");
    assertThat(twice.findings())
        .singleElement()
        .matches(finding -> finding.severity() == Severity.NOTE)
        .matches(finding -> finding.render().contains("sendStringParametersAsUnicode=false"));
  }
}
