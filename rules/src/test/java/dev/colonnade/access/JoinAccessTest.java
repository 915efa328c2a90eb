package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression;
import dev.colonnade.published.SchemaNotation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import dev.colonnade.statistics.Statistics;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** Which side of a join a condition binds, and from when on. */
class JoinAccessTest {
  private static final List<String> TABLES =
      List.of(
          "table berth(id int not null, pier int, length int, primary key (id))",
          "index berth_pier on berth(pier)",
          "table booking(id int not null, berth int, vessel int, fee int, primary key (id))",
          "index booking_berth on booking(berth)",
          "index booking_vessel on booking(vessel)");

  private static List<TableAccess> analyze(Dialect dialect, String sql) {
    Schema schema = SchemaNotation.read(TABLES, dialect);
    QueryText text = new QueryText("q", SourceLocation.of("q.sql"), QuerySource.FILE, sql, sql);
    StatementReading reading = new StatementParser(schema, dialect).parse(text);
    return new AccessPathAnalyzer(schema, dialect, Statistics.NONE)
        .analyze(((StatementReading.Analysed) reading).query())
        .tables();
  }

  private static List<TableAccess> analyze(String sql) {
    return analyze(Dialects.postgresql(), sql);
  }

  private static String bounds(TableAccess access) {
    return access.demand().bounds().stream()
        .map(bound -> bound.value().render() + " " + bound.kind())
        .sorted()
        .collect(Collectors.joining(", "));
  }

  private static TableAccess use(List<TableAccess> accesses, String alias) {
    return accesses.stream().filter(a -> a.use().alias().equals(alias)).findFirst().orElseThrow();
  }

  @Test
  void an_inner_join_carries_a_constant_over_to_the_other_side() {
    List<TableAccess> read =
        analyze("select k.fee from berth b join booking k on k.berth = b.id where b.id = 5");
    assertThat(bounds(use(read, "b"))).isEqualTo("id EQUALITY");
    assertThat(bounds(use(read, "k"))).isEqualTo("berth EQUALITY");
    assertThat(use(read, "b").chosen().path()).isEqualTo(AccessPath.UNIQUE_LOOKUP);
  }

  @Test
  void the_on_of_a_left_join_never_binds_the_preserved_side() {
    List<TableAccess> read =
        analyze(
            "select b.length, k.fee from berth b left join booking k"
                + " on k.berth = b.id and b.pier = 3 and k.vessel = 7");
    assertThat(bounds(use(read, "b"))).isEmpty();
    assertThat(use(read, "b").joinPosition()).isEqualTo(1);
    assertThat(bounds(use(read, "k"))).isEqualTo("berth EQUALITY, vessel EQUALITY");
  }

  @Test
  void a_constant_in_the_on_of_a_left_join_is_not_carried_to_the_preserved_side() {
    List<TableAccess> read =
        analyze(
            "select b.length, k.fee from berth b left join booking k"
                + " on b.id = k.berth and k.berth = 5");
    assertThat(bounds(use(read, "b"))).isEmpty();
  }

  @Test
  void an_anti_join_does_not_search_for_the_missing_row() {
    List<TableAccess> read =
        analyze(
            "select b.id from berth b left join booking k on k.berth = b.id where k.id is null");
    assertThat(bounds(use(read, "k"))).isEqualTo("berth EQUALITY");
    assertThat(use(read, "b").joinPosition()).isEqualTo(1);
  }

  @Test
  void a_condition_that_rejects_null_makes_a_left_join_an_inner_one() {
    List<TableAccess> read =
        analyze(
            "select b.id from berth b left join booking k on k.berth = b.id where k.vessel = 7");
    assertThat(use(read, "k").joinPosition()).isEqualTo(1);
    assertThat(use(read, "k").chosen().matching())
        .extracting(Expression::render)
        .contains("vessel");
    assertThat(use(read, "b").chosen().path()).isEqualTo(AccessPath.UNIQUE_LOOKUP);
  }

  @Test
  void a_correlated_subquery_is_bound_by_the_outer_row() {
    List<TableAccess> read =
        analyze(
            "select b.id from berth b where exists"
                + " (select 1 from booking k where k.berth = b.id and k.fee > 10)");
    TableAccess inner = use(read, "k");
    assertThat(inner.chosen().index().orElseThrow().name().text()).isEqualTo("booking_berth");
    assertThat(inner.demand().repeated()).isTrue();
  }

  @Test
  void a_table_read_twice_has_two_rows() {
    List<TableAccess> read =
        analyze(
            "select a.id from booking a join booking b on b.berth = a.berth where a.vessel = 7");
    assertThat(read).extracting(access -> access.use().alias()).containsExactly("a", "b");
    assertThat(use(read, "b").chosen().matching()).extracting(Expression::render).contains("berth");
  }

  @Test
  void a_function_on_the_joined_column_binds_nothing() {
    List<TableAccess> read =
        analyze("select b.id from berth b join booking k on abs(k.berth) = b.id");
    assertThat(bounds(use(read, "k"))).doesNotContain("berth EQUALITY,");
    assertThat(
            use(read, "k").candidates().stream()
                .filter(c -> c.index().orElseThrow().name().text().equals("booking_berth"))
                .findFirst()
                .orElseThrow()
                .matching())
        .isEmpty();
  }

  @Test
  void a_unique_look_up_serves_no_order_that_a_later_table_decides() {
    List<TableAccess> read =
        analyze(
            "select k.fee from berth b left join booking k on k.berth = b.id"
                + " where b.id = 5 order by k.fee");
    assertThat(use(read, "b").joinPosition()).isEqualTo(1);
    assertThat(use(read, "b").chosen().path()).isEqualTo(AccessPath.UNIQUE_LOOKUP);
    assertThat(use(read, "b").chosen().orderServed()).contains(false);
  }

  @Test
  void a_unique_look_up_brings_no_groups_together_that_a_later_table_makes() {
    List<TableAccess> read =
        analyze(
            "select k.vessel, count(*) from berth b left join booking k on k.berth = b.id"
                + " where b.id = 5 group by k.vessel");
    assertThat(use(read, "b").chosen().path()).isEqualTo(AccessPath.UNIQUE_LOOKUP);
    assertThat(use(read, "b").chosen().groupingServed()).contains(false);
  }

  @Test
  void an_order_by_a_unique_key_goes_on_with_the_rows_of_a_later_table() {
    List<TableAccess> read =
        analyze(
            Dialects.sqlite(),
            "select b.id from berth b left join booking k on k.berth = b.id order by b.id, k.fee");
    assertThat(use(read, "b").joinPosition()).isEqualTo(1);
    assertThat(use(read, "b").candidates())
        .allSatisfy(it -> assertThat(it.orderServed()).contains(false));
  }

  @Test
  void a_table_joined_by_its_whole_key_decides_no_order_behind_a_unique_one() {
    List<TableAccess> one =
        analyze(
            Dialects.sqlite(),
            "select k.fee from booking k left join berth b on b.id = k.berth"
                + " where k.id = 5 order by b.pier");
    assertThat(use(one, "k").joinPosition()).isEqualTo(1);
    assertThat(use(one, "k").chosen().orderServed()).contains(true);
  }

  @Test
  void a_unique_secondary_index_is_not_searched_beyond_its_key() {
    Schema schema =
        SchemaNotation.read(
            List.of(
                "table pilot(id int not null, licence int, rank int, primary key (id))",
                "unique pilot_licence on pilot(licence)",
                "index pilot_rank on pilot(rank)"),
            Dialects.mysql());
    String sql =
        "select * from pilot where licence > 3 and rank = 2 and id > 5 order by licence, id";
    QueryText text = new QueryText("q", SourceLocation.of("q.sql"), QuerySource.FILE, sql, sql);
    StatementReading reading = new StatementParser(schema, Dialects.mysql()).parse(text);
    List<Candidate> candidates =
        new AccessPathAnalyzer(schema, Dialects.mysql(), Statistics.NONE)
            .analyze(((StatementReading.Analysed) reading).query())
            .tables()
            .get(0)
            .candidates();
    Candidate licence =
        candidates.stream()
            .filter(c -> c.index().orElseThrow().name().text().equals("pilot_licence"))
            .findFirst()
            .orElseThrow();
    assertThat(licence.orderServed()).contains(false);
    Candidate rank =
        candidates.stream()
            .filter(c -> c.index().orElseThrow().name().text().equals("pilot_rank"))
            .findFirst()
            .orElseThrow();
    assertThat(rank.matching()).extracting(Expression::render).containsExactly("rank", "id");
  }
}
