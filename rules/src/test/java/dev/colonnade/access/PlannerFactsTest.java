package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.published.SchemaNotation;
import dev.colonnade.query.Query;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.RowKey;
import dev.colonnade.statistics.Statistics;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/**
 * What one planner does and another does not, each as seen in its own plans (PlannerAgreementTest
 * asks them again): HSQLDB 2.7.4, H2 2.5.252, PostgreSQL 18.6, SQLite 3.54.1, Derby 10.16.1.1.
 */
class PlannerFactsTest {
  private static final List<String> TABLES =
      List.of(
          "table berth(id int not null, pier int, length int, depth int, primary key (id))",
          "index berth_pier_length on berth(pier, length)",
          "index berth_pier_length_depth on berth(pier, length, depth)",
          "table booking(id int not null, berth int, vessel int not null, fee int not null,"
              + " primary key (id))",
          "index booking_berth on booking(berth)",
          "index booking_vessel_fee on booking(vessel, fee)",
          "unique booking_vessel_id on booking(vessel, id)");

  private static Candidate candidate(Dialect dialect, String index, String sql) {
    return candidate(TABLES, dialect, index, sql);
  }

  /** What is said of an index for a query on tables in {@link SchemaNotation}. */
  static Candidate candidate(List<String> tables, Dialect dialect, String index, String sql) {
    Schema schema = SchemaNotation.read(tables, dialect);
    QueryText text = new QueryText("q", SourceLocation.of("q.sql"), QuerySource.FILE, sql, sql);
    StatementReading reading = new StatementParser(schema, dialect).parse(text);
    return new AccessPathAnalyzer(schema, dialect, Statistics.NONE)
        .analyze(((StatementReading.Analysed) reading).query()).tables().stream()
            .flatMap(access -> access.candidates().stream())
            .filter(it -> it.index().orElseThrow().name().text().equals(index))
            .findFirst()
            .orElseThrow();
  }

  private static List<String> matching(Dialect dialect, String index, String sql) {
    return candidate(dialect, index, sql).matching().stream().map(Expression::render).toList();
  }

  @Test
  void a_list_of_one_value_is_an_equality_except_on_hsqldb() {
    String sql = "select depth from berth where pier = 1 and length in (5)";
    assertThat(matching(Dialects.postgresql(), "berth_pier_length", sql))
        .containsExactly("pier", "length");
    assertThat(matching(Dialects.h2(), "berth_pier_length", sql)).containsExactly("pier", "length");
    assertThat(matching(Dialects.hsqldb(), "berth_pier_length", sql)).containsExactly("pier");
  }

  @Test
  void one_value_written_twice_stays_a_list_on_h2() {
    String sql = "select depth from berth where pier = 1 and (length = 5 or length = 5)";
    assertThat(matching(Dialects.h2(), "berth_pier_length", sql)).containsExactly("pier");
    assertThat(matching(Dialects.sqlite(), "berth_pier_length", sql))
        .containsExactly("pier", "length");
  }

  @Test
  void a_list_of_rows_bounds_on_h2_where_it_names_the_whole_key_and_stands_alone() {
    String rows = "select id from berth where (pier, length) in ((1, 2), (3, 4))";
    assertThat(matching(Dialects.h2(), "berth_pier_length", rows))
        .containsExactly("pier", "length");
    assertThat(matching(Dialects.h2(), "berth_pier_length_depth", rows)).containsExactly("pier");
    assertThat(matching(Dialects.h2(), "berth_pier_length_depth", rows + " and depth = 3"))
        .isEmpty();
  }

  @Test
  void a_list_of_rows_gives_way_on_hsqldb_to_another_condition_on_the_leading_column() {
    String rows = "select id from berth where (pier, length) in ((1, 2), (3, 4))";
    assertThat(matching(Dialects.hsqldb(), "berth_pier_length", rows))
        .containsExactly("pier", "length");
    assertThat(matching(Dialects.hsqldb(), "berth_pier_length", rows + " and pier > 1"))
        .containsExactly("pier");
    assertThat(matching(Dialects.hsqldb(), "berth_pier_length_depth", rows + " and depth = 1"))
        .containsExactly("pier", "length");
  }

  @Test
  void h2_keeps_an_outer_join_whatever_where_rejects() {
    String sql =
        "select b.id from booking k left join berth b on k.berth = b.pier where b.length = 3";
    assertThat(matching(Dialects.h2(), "berth_pier_length", sql)).containsExactly("pier");
    String on = sql.replace(" where ", " and ");
    assertThat(matching(Dialects.h2(), "berth_pier_length", on)).containsExactly("pier", "length");
  }

  @Test
  void derby_filters_the_rows_of_an_outer_join_under_another_join_once_they_are_joined() {
    String outer = "select k.fee from booking k left join berth b on b.id = k.fee";
    String where = " where k.berth = 4";
    assertThat(matching(Dialects.derby(), "booking_berth", outer + where)).containsExactly("berth");
    assertThat(
            matching(
                Dialects.derby(),
                "booking_berth",
                outer + " join berth x on x.id = k.vessel" + where))
        .isEmpty();
    assertThat(
            matching(
                Dialects.sqlite(),
                "booking_berth",
                outer + " join berth x on x.id = k.vessel" + where))
        .containsExactly("berth");
  }

  @Test
  void sqlite_takes_a_condition_out_of_both_branches_of_an_or_but_not_out_of_three() {
    String two = "select id from berth where (pier = 1 and depth > 3) or (pier = 1 and length = 2)";
    assertThat(matching(Dialects.sqlite(), "berth_pier_length", two)).containsExactly("pier");
    String three = two + " or (pier = 1 and id = 3)";
    assertThat(matching(Dialects.sqlite(), "berth_pier_length", three)).isEmpty();
    assertThat(matching(Dialects.hsqldb(), "berth_pier_length", three)).containsExactly("pier");
    assertThat(matching(Dialects.derby(), "berth_pier_length", two)).isEmpty();
  }

  @Test
  void one_value_of_a_later_table_is_sorted_by_where_the_planner_does_not_know_it() {
    String join = "select b.depth from booking k join berth b on b.id = k.berth where k.vessel = 3";
    String order = join + " and b.depth = 4 order by b.depth, k.id";
    assertThat(candidate(Dialects.postgresql(), "booking_vessel_id", order).orderServed())
        .isEqualTo(Optional.of(true));
    assertThat(candidate(Dialects.sqlite(), "booking_vessel_id", order).orderServed())
        .isEqualTo(Optional.of(false));
    assertThat(candidate(Dialects.derby(), "booking_vessel_id", order).orderServed())
        .isEqualTo(Optional.of(true));
    String groups = join + " and b.depth = 4 group by b.depth, k.fee";
    assertThat(candidate(Dialects.postgresql(), "booking_vessel_fee", groups).groupingServed())
        .isEqualTo(Optional.of(true));
    assertThat(candidate(Dialects.derby(), "booking_vessel_fee", groups).groupingServed())
        .isEqualTo(Optional.of(false));
  }

  /**
   * MySQL manual, "Clustered and Secondary Indexes": without a primary key the first unique index
   * of columns that are NOT NULL is the clustered one, and its columns stand in the other indexes.
   */
  @Test
  void innodb_stores_a_table_without_primary_key_by_its_first_unique_index_of_columns_not_null() {
    List<String> tables =
        List.of(
            "table mooring(place int not null, pier int, length int, depth int)",
            "index mooring_near on mooring(place)",
            "unique mooring_pier on mooring(pier)",
            "unique mooring_place on mooring(place)",
            "index mooring_length on mooring(length)");
    String place = "select place from mooring where length = 4 and place > 7";
    for (Dialect dialect : List.of(Dialects.mariadb(), Dialects.mysql())) {
      Table mooring = SchemaNotation.read(tables, dialect).tables().iterator().next();
      assertThat(mooring.indexes())
          .filteredOn(index -> RowKey.isOf(index, mooring, dialect))
          .extracting(index -> index.name().text())
          .containsExactly("mooring_place");
      Candidate length = candidate(tables, dialect, "mooring_length", place);
      assertThat(length.covering()).isTrue();
      assertThat(length.matching()).hasSize(2);
    }
    Candidate heap = candidate(tables, Dialects.mssql(), "mooring_length", place);
    assertThat(heap.covering()).isFalse();
    assertThat(heap.matching()).hasSize(1);
  }

  /** Four queries of foodmart. */
  @Test
  void sqlite_sorts_groups_whose_nulls_are_wanted_at_the_unusual_end() {
    String groups = "select pier from berth group by pier order by pier";
    assertThat(candidate(Dialects.sqlite(), "berth_pier_length", groups).orderServed())
        .isEqualTo(Optional.of(true));
    String last = groups + " nulls last";
    assertThat(candidate(Dialects.sqlite(), "berth_pier_length", last).orderServed())
        .isEqualTo(Optional.of(false));
    String ofOne =
        "select id from booking where vessel = 1 and id = 2 group by id order by id nulls last";
    assertThat(candidate(Dialects.sqlite(), "booking_vessel_id", ofOne).orderServed())
        .isEqualTo(Optional.of(false));
    String first = groups + " nulls first";
    assertThat(candidate(Dialects.sqlite(), "berth_pier_length", first).orderServed())
        .isEqualTo(Optional.of(true));
  }

  @Test
  void one_row_is_sorted_where_the_planner_does_not_know_it_for_one() {
    String sql = "select fee from booking where vessel = 3 and id = 5 order by fee";
    assertThat(candidate(Dialects.sqlite(), "booking_vessel_id", sql).orderServed())
        .isEqualTo(Optional.of(true));
    assertThat(candidate(Dialects.postgresql(), "booking_vessel_id", sql).orderServed())
        .isEqualTo(Optional.of(false));
  }

  @Test
  void postgresql_groups_by_the_key_alone() {
    String sql =
        "select vessel, id, count(*) from booking where vessel in (1, 2) group by vessel, id";
    assertThat(candidate(Dialects.postgresql(), "booking_vessel_id", sql).groupingServed())
        .isEqualTo(Optional.of(false));
    assertThat(candidate(Dialects.sqlite(), "booking_vessel_id", sql).groupingServed())
        .isEqualTo(Optional.of(true));
  }

  /** As foodmart's query 2067 is planned by HSQLDB 2.7.4; with two tables nothing is carried. */
  @Test
  void hsqldb_carries_a_value_from_a_later_table_to_an_earlier_one_where_there_are_three() {
    String three =
        "select k.fee from berth b, booking k, berth m"
            + " where k.berth = b.id and k.vessel = m.id and m.id = 7";
    assertThat(matching(Dialects.hsqldb(), "booking_vessel_fee", three)).containsExactly("vessel");
    String turned =
        "select k.fee from berth m, booking k, berth b"
            + " where k.berth = b.id and k.vessel = m.pier and m.pier = 7 and m.length = 1";
    assertThat(candidateAfterNothing(Dialects.hsqldb(), "booking_vessel_fee", turned).matching())
        .isEmpty();
    String two = "select k.fee from booking k, berth m where k.vessel = m.pier and m.pier = 7";
    assertThat(candidateAfterNothing(Dialects.hsqldb(), "booking_vessel_fee", two).matching())
        .isEmpty();
    assertThat(candidateAfterNothing(Dialects.hsqldb(), "booking_vessel_fee", three).matching())
        .hasSize(1);
  }

  /** Of the one use of the index's table, read before every other. */
  private static Candidate candidateAfterNothing(Dialect dialect, String index, String sql) {
    Schema schema = SchemaNotation.read(TABLES, dialect);
    QueryText text = new QueryText("q", SourceLocation.of("q.sql"), QuerySource.FILE, sql, sql);
    Query query =
        ((StatementReading.Analysed) new StatementParser(schema, dialect).parse(text)).query();
    Identifier table =
        schema.tables().stream()
            .flatMap(it -> it.indexes().stream())
            .filter(it -> it.name().text().equals(index))
            .findFirst()
            .orElseThrow()
            .table();
    int use =
        query.blocks().get(0).tables().stream()
            .filter(it -> it.table().equals(table))
            .findFirst()
            .orElseThrow()
            .use();
    return new AccessPathAnalyzer(schema, dialect, Statistics.NONE)
        .accessAfter(query, use, Set.of(), Set.of()).orElseThrow().candidates().stream()
            .filter(it -> it.index().orElseThrow().name().text().equals(index))
            .findFirst()
            .orElseThrow();
  }

  /** As foodmart's query 5843 is planned by HSQLDB 2.7.4. */
  @Test
  void hsqldb_asks_a_plain_derived_table_in_a_join_for_what_is_asked_of_its_rows() {
    String joined =
        "select b.pier from berth b, (select * from booking) k where k.berth = b.id and %s";
    assertThat(
            matching(
                Dialects.hsqldb(), "booking_vessel_fee", String.format(joined, "k.vessel = 7")))
        .containsExactly("vessel");
    assertThat(
            matching(
                Dialects.hsqldb(),
                "booking_vessel_fee",
                String.format(joined, "k.vessel = 7")
                    .replace("*", "vessel, max(berth) berth")
                    .replace("booking)", "booking group by vessel)")))
        .isEmpty();
  }

  /** As foodmart's query 5616 is planned by PostgreSQL 18.6, and by MariaDB 11.4.5 alike. */
  @Test
  void an_or_over_two_tables_bounds_the_one_that_is_read_first_where_every_branch_restricts_it() {
    String both =
        "select b.depth from berth b, booking k"
            + " where (b.pier = 1 and k.fee = 5) or (b.pier = 2 and k.fee > 7)";
    String one =
        "select b.depth from berth b, booking k where (b.pier = 1 and k.fee = 5) or k.fee > 7";
    for (Dialect dialect : List.of(Dialects.postgresql(), Dialects.mariadb())) {
      assertThat(first(dialect, "berth_pier_length", both)).containsExactly("pier");
      assertThat(first(dialect, "berth_pier_length", one)).isEmpty();
    }
    assertThat(first(Dialects.sqlite(), "berth_pier_length", both)).isEmpty();
  }

  private static List<String> first(Dialect dialect, String index, String sql) {
    return candidateAfterNothing(dialect, index, sql).matching().stream()
        .map(Expression::render)
        .toList();
  }

  /** As query 22 of TPC-H and 69 of TPC-DS are planned by SQLite 3.54.1. */
  @Test
  void sqlite_reads_the_select_list_of_an_exists_that_stays_a_subquery() {
    String asked = "select b.id from berth b where %s (select %s from booking k%s)";
    String one = " where k.berth = b.id";
    assertThat(covers(Dialects.sqlite(), String.format(asked, "not exists", "*", one))).isFalse();
    assertThat(covers(Dialects.sqlite(), String.format(asked, "not exists", "k.fee", one)))
        .isFalse();
    assertThat(covers(Dialects.sqlite(), String.format(asked, "not exists", "1", one))).isTrue();
    assertThat(covers(Dialects.sqlite(), String.format(asked, "exists", "*", one))).isTrue();
    assertThat(
            covers(
                Dialects.sqlite(),
                String.format(asked, "exists", "k.*", ", berth m where k.berth = b.id")))
        .isFalse();
    assertThat(covers(Dialects.postgresql(), String.format(asked, "not exists", "*", one)))
        .isTrue();
  }

  private static boolean covers(Dialect dialect, String sql) {
    return candidate(dialect, "booking_berth", sql).covering();
  }

  /** As foodmart's query 6741 is planned by H2 2.5.252. */
  @Test
  void h2_takes_a_condition_out_of_two_pairs_only() {
    String pairs =
        "select id from berth where (pier = 1 and depth = 2) or (depth = 3 and pier = 1)";
    assertThat(matching(Dialects.h2(), "berth_pier_length", pairs)).containsExactly("pier");
    String more =
        "select id from berth where (pier = 1 and depth = 2 and id > 4) or (pier = 1 and depth ="
            + " 3)";
    assertThat(matching(Dialects.h2(), "berth_pier_length", more)).isEmpty();
  }
}
