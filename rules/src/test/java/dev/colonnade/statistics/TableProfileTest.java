package dev.colonnade.statistics;

import static dev.colonnade.statistics.Confidence.ASSUMED;
import static dev.colonnade.statistics.Confidence.DERIVED;
import static dev.colonnade.statistics.StatisticsFixture.HERE;
import static dev.colonnade.statistics.StatisticsFixture.bookings;
import static dev.colonnade.statistics.StatisticsFixture.equal;
import static dev.colonnade.statistics.StatisticsFixture.index;
import static dev.colonnade.statistics.StatisticsFixture.nulls;
import static dev.colonnade.statistics.StatisticsFixture.primaryKey;
import static dev.colonnade.statistics.StatisticsFixture.rows;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class TableProfileTest {

  private static TableProfile profile(Dialect dialect, TableStatistics statistics) {
    return new TableProfile(bookings(primaryKey()), statistics, dialect);
  }

  @Test
  void a_table_about_which_nothing_is_stated_has_assumed_numbers() {
    TableProfile profile = profile(Dialects.postgresql(), TableStatistics.UNKNOWN);
    assertThat(profile.rows()).isEqualTo(Estimate.assumed(RowCount.ASSUMED_ROWS));
    assertThat(profile.tablePages().confidence()).isEqualTo(ASSUMED);
    assertThat(profile.index(index("i", false, "berth")).confidence()).isEqualTo(ASSUMED);
    assertThat(profile.selectivity(List.of(equal("berth")))).isEqualTo(Estimate.assumed(0.005));
    assertThat(profile.distinct(Identifier.of("id")))
        .isEqualTo(Estimate.assumed(RowCount.ASSUMED_ROWS));
  }

  /**
   * pg_class.relpages on PostgreSQL 15.18 for 200,000 rows (int4, int8, text of 20): (a, b) 772,
   * (a, c) 1212, (c, a) 1215, (a) include (c) 1212; within one page in a hundred, since the cutting
   * of keys in inner pages is left out.
   */
  @Test
  void indexes_of_several_columns_are_as_large_as_measured() {
    Table table =
        new Table(
            Identifier.of("g"),
            Optional.empty(),
            List.of(
                Column.of("a", ColumnType.of("int", TypeFamily.INTEGER), true),
                Column.of("b", ColumnType.of("bigint", TypeFamily.BIG_INTEGER), true),
                Column.of("c", StatisticsFixture.varchar(20), true)),
            List.of(),
            List.of(),
            List.of(),
            HERE);
    TableProfile profile = new TableProfile(table, rows(200_000), Dialects.postgresql());
    assertPages(profile, index("ab", false, "a", "b"), 772);
    assertPages(profile, index("ac", false, "a", "c"), 1_212);
    assertPages(profile, index("ca", false, "c", "a"), 1_215);
    assertPages(profile, index("ac", false, "a").withIncluded(List.of(Identifier.of("c"))), 1_212);
  }

  private static void assertPages(TableProfile profile, Index index, double measured) {
    assertThat(profile.index(index).totalPages())
        .as(index.render())
        .isCloseTo(measured, within(measured / 100));
  }

  @Test
  void only_some_databases_append_the_primary_key_to_an_entry() {
    Index berth = index("i", false, "berth");
    assertThat(profile(Dialects.mysql(), rows(1_000)).index(berth).entryBytes()).isEqualTo(6 + 12);
    assertThat(profile(Dialects.postgresql(), rows(1_000)).index(berth).entryBytes()).isEqualTo(16);
    assertThat(profile(Dialects.mysql(), rows(1_000)).index(index("i", false, "id")).entryBytes())
        .isEqualTo(6 + 8);
  }

  @Test
  void the_primary_key_holds_the_rows_where_the_database_stores_them_so() {
    assertThat(profile(Dialects.mysql(), rows(1_000)).holdsRows(primaryKey())).isTrue();
    assertThat(profile(Dialects.sqlite(), rows(1_000)).holdsRows(primaryKey()))
        .as("a bigint is no row number")
        .isFalse();
    assertThat(profile(Dialects.postgresql(), rows(1_000)).holdsRows(primaryKey())).isFalse();
    assertThat(profile(Dialects.mysql(), rows(1_000)).holdsRows(index("i", true, "id"))).isFalse();
    TableProfile mysql = profile(Dialects.mysql(), rows(100_000));
    assertThat(mysql.index(primaryKey()).leafPages()).isEqualTo(mysql.tablePages().value());
    assertThat(mysql.correlation(primaryKey())).isEqualTo(1);
  }

  /** Where the number of different keys is not known, no entry is taken to be shared. */
  @Test
  void rows_with_the_same_key_share_entries_where_their_number_is_known() {
    ColumnStatistics few = ColumnStatistics.distinct(50);
    TableStatistics known = rows(100_000, "vessel", few, "status", few);
    Dialect postgresql = Dialects.postgresql();
    double own = pages(postgresql, rows(100_000), index("i", false, "vessel"));
    double shared = pages(postgresql, known, index("i", false, "vessel"));
    assertThat(own).isEqualTo(276);
    assertThat(shared).isLessThan(own / 2);
    assertThat(pages(postgresql, known, index("i", false, "vessel", "status")))
        .isBetween(shared, own);
    assertThat(pages(postgresql, known, index("i", true, "vessel"))).isEqualTo(own);
    assertThat(
            pages(
                postgresql,
                known,
                index("i", false, "vessel").withIncluded(List.of(Identifier.of("status")))))
        .isGreaterThan(own - 1);
    assertThat(pages(Dialects.h2(), known, index("i", false, "vessel")))
        .isEqualTo(pages(Dialects.h2(), rows(100_000), index("i", false, "vessel")));
  }

  private static double pages(Dialect dialect, TableStatistics statistics, Index index) {
    return profile(dialect, statistics).index(index).totalPages();
  }

  @Test
  void a_partial_index_has_entries_for_its_rows_only() {
    Index partial =
        new Index(
            Identifier.of("i"),
            Identifier.of("booking"),
            false,
            index("i", false, "berth").keyColumns(),
            List.of(),
            Optional.of(new NullTest(ColumnRef.self("vessel"), true)),
            Optional.of("vessel is not null"),
            IndexMethod.BTREE,
            false,
            IndexOrigin.CREATE_INDEX,
            HERE);
    TableStatistics statistics = rows(1_000, "vessel", nulls(0.9, 50, Map.of()));
    IndexSize size = profile(Dialects.postgresql(), statistics).index(partial);
    assertThat(size.entries()).isCloseTo(100, within(1e-6));
    assertThat(size.confidence()).isEqualTo(DERIVED);
  }

  /** Oracle: a row whose key columns are all NULL has no entry. */
  @Test
  void oracle_leaves_out_rows_without_any_key_value() {
    TableStatistics statistics = rows(1_000, "vessel", nulls(0.9, 50, Map.of()));
    TableProfile oracle = profile(Dialects.oracle(), statistics);
    assertThat(oracle.index(index("i", false, "vessel")).entries()).isCloseTo(100, within(1e-6));
    assertThat(oracle.index(index("i", false, "vessel", "berth")).entries()).isEqualTo(1_000);
  }

  /** Yao for rows at random, the pages that they fill for rows in order. */
  @Test
  void visits_lie_between_scattered_and_together() {
    TableProfile profile = profile(Dialects.postgresql(), rows(100_000));
    double pages = profile.tablePages().value();
    assertThat(profile.pagesVisited(0)).isZero();
    assertThat(profile.pagesVisited(1)).isCloseTo(1, within(1e-6));
    assertThat(profile.pagesVisited(100_000)).isEqualTo(pages);
    assertThat(profile.pagesVisited(1e9)).isEqualTo(pages);
    double scattered = profile.pagesVisited(1_000);
    double together = profile.pagesVisited(1_000, 1);
    assertThat(scattered).isCloseTo(PageVisits.yao(100_000, pages, 1_000), within(1e-9));
    assertThat(together).isEqualTo(Math.ceil(pages / 100));
    assertThat(profile.pagesVisited(1_000, 0.5))
        .isCloseTo(scattered - (scattered - together) / 4, within(1e-9));
  }

  /** varchar(20) 20, varchar(100) 66, varchar(4000) 516 and unknown 32: get_typavgwidth. */
  @Test
  void widths_of_texts_follow_their_declared_length() {
    assertThat(ColumnWidths.of(StatisticsFixture.varchar(20))).isEqualTo(Estimate.assumed(21));
    assertThat(ColumnWidths.of(StatisticsFixture.varchar(100))).isEqualTo(Estimate.assumed(67));
    assertThat(ColumnWidths.of(StatisticsFixture.varchar(4_000))).isEqualTo(Estimate.assumed(517));
    assertThat(ColumnWidths.of(ColumnType.of("text", TypeFamily.TEXT)))
        .isEqualTo(Estimate.assumed(32));
    assertThat(ColumnWidths.of(ColumnType.of("bigint", TypeFamily.BIG_INTEGER)))
        .isEqualTo(Estimate.derived(8));
  }
}
