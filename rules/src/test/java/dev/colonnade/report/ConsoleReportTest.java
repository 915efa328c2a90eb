package dev.colonnade.report;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class ConsoleReportTest {
  @Test
  void the_heaviest_findings_stand_next_to_the_numbers() {
    assertThat(String.join("\n", ConsoleReport.lines(ReportFixture.report())))
        .isEqualTo(
            """
            Not understood
              src/main/resources/db/harbour.xml:24: change set 2::quay: change type moorLoad is not known
              queries/tide.sql:7: SQL does not parse: `select * frm tide`
              harbour-1.0.jar!/db/a b#ü.xml:3: not <read> | in Süderhafen

            src/main/java/harbour/Bookings.java:31: warning: [missing-index] no index has a leading column that this query binds
              query   vessel_id = ?
              path    full-table-scan booking, 120000 rows (assumed)

            src/main/resources/db/harbour.xml:24: error: [redundant-index] berth_ix is a leading part of booking_berth_ix
              index   booking_berth_ix(berth_id, arrives desc) leads with it
              fix     drop index berth_ix
              caution look at the use of the index in production first

            schema    PostgreSQL, 1 table, 2 indexes; 2 of 3 changes applied
            queries   1 of 2 queries analysed, 4 more without a text before run time, 1 read of a table
            paths     1 range-scan
            findings  1 error, 1 warning, 0 notes\
            """);
  }

  @Test
  void an_empty_result_has_its_numbers() {
    assertThat(ConsoleReport.lines(ReportFixture.empty()))
        .containsExactly(
            "schema    PostgreSQL, 0 tables, 0 indexes; 0 of 0 changes applied",
            "queries   0 of 0 queries analysed, 0 reads of a table",
            "findings  0 errors, 0 warnings, 0 notes");
  }
}
