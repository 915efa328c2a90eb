package dev.colonnade.report;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.UnanalysedQuery;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class MarkdownReportTest {
  @Test
  void the_summary_leads_with_the_verdict_and_ends_with_coverage() {
    assertThat(MarkdownReport.write(ReportFixture.report()))
        .isEqualTo(
            """
            # Colonnade: 1 error, 1 warning, 0 notes

            PostgreSQL: 1 table with 2 indexes, 1 analysed query with 1 read of a table. Not everything was understood: see [Coverage](#coverage).

            ## Errors

            ### `redundant-index` berth\\_ix is a leading part of booking\\_berth\\_ix

            `src/main/resources/db/harbour.xml:24`, change set `2::quay`

            ```text
            index   booking_berth_ix(berth_id, arrives desc) leads with it
            fix     drop index berth_ix
            caution look at the use of the index in production first
            ```

            ## Warnings

            ### `missing-index` no index has a leading column that this query binds

            `src/main/java/harbour/Bookings.java:31`, query `harbour.Bookings.of1`, rests on an assumption

            ```text
            query   vessel_id = ?
            path    full-table-scan booking, 120000 rows (assumed)
            ```

            ## Access paths

            | path | reads of a table |
            | --- | ---: |
            | range-scan | 1 |

            Numbers behind them: 1 derived.

            ## Coverage

            | input | found | taken in | not understood |
            | --- | ---: | ---: | ---: |
            | changes | 3 | 2 | 1 |
            | queries | 2 | 1 | 1 |

            Changes that do not run on this database, or not with these contexts and labels, are found and not taken in.

            4 queries have no text before run time and are not counted here: what they read is not known.

            Changes not understood; the schema here may differ from the real one:

            - `src/main/resources/db/harbour.xml:24` change set 2::quay: change type moorLoad is not known

            Queries not analysed:

            - `queries/tide.sql:7` SQL does not parse: \\`select \\* frm tide\\`

            Other input not understood:

            - `harbour-1.0.jar!/db/a b#ü.xml:3` not \\<read\\> \\| in Süderhafen
            """);
  }

  @Test
  void nothing_to_say_is_said() {
    assertThat(MarkdownReport.write(ReportFixture.empty()))
        .startsWith("# Colonnade: 0 errors, 0 warnings, 0 notes\n")
        .contains("Everything that was found was understood.")
        .doesNotContain("## Access paths");
  }

  /** Code hosts take comments of up to 65,536 characters (common practice). */
  @Test
  void a_page_of_any_number_of_findings_and_gaps_stays_a_comment() {
    Report few = ReportFixture.report();
    Report many =
        new Report(
            few.dialect(),
            few.schema(),
            few.queries(),
            Stream.of(1, 2, 3)
                .flatMap(each -> Collections.nCopies(400, few.findings()).stream())
                .flatMap(List::stream)
                .toList(),
            few.rules(),
            new Coverage(
                3000,
                0,
                IntStream.rangeClosed(1, 3000)
                    .mapToObj(line -> SourceLocation.of("db/quay.xml", line))
                    .map(place -> new NotUnderstood(place, "change type moorLoad is not known"))
                    .toList(),
                3000,
                0,
                IntStream.rangeClosed(1, 3000)
                    .mapToObj(line -> SourceLocation.of("queries/tide.sql", line))
                    .map(place -> new UnanalysedQuery(place.toString(), place, "no SQL"))
                    .toList(),
                0,
                List.of()));

    String page = MarkdownReport.write(many);

    assertThat(page.length()).isLessThan(65_536);
    assertThat(page).contains("# Colonnade: 1200 errors, 1200 warnings");
    assertThat(page)
        .containsPattern(
            "\\d+ findings more of this severity in findings.sarif: \\d+ `redundant-index`.");
    assertThat(page)
        .contains("1200 findings more of this severity in findings.sarif: 1200 `missing-index`.");
    assertThat(page).containsPattern("- and \\d+ more, all in findings.sarif");
    assertThat(page).contains("| queries | 3000 | 0 | 3000 |");
  }

  @Test
  void code_spans_survive_back_quotes() {
    assertThat(MarkdownReport.code("a``b")).isEqualTo("``` a``b ```");
    assertThat(MarkdownReport.code("a")).isEqualTo("`a`");
  }
}
