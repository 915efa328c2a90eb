package dev.colonnade.planner;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.planner.Prediction.OurWord;
import dev.colonnade.planner.TestTable.TestColumn;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/**
 * What conditions around derived tables and common table expressions come to inside, as the
 * planners themselves tell it: the columns that bound the scan and whether the table is left alone.
 */
class DerivedTablesTest {
  /** What stands before FROM and behind it, with the mark behind the table {@code t}. */
  private record Case(String select, String from) {
    static Case of(String select, String from) {
      return new Case(select, from);
    }

    TestQuery query() {
      List<String> tables = from.contains("s.") ? List.of("s", "t") : List.of("t");
      return new TestQuery(select, from, tables, List.of(), List.of(), "", false, false, false);
    }
  }

  private static final List<Case> CASES =
      List.of(
          Case.of("d.c", "(select a, b, c from t\u00a7 where b = 1) d where d.a = 5"),
          Case.of("d.a", "(select a, b, c from t\u00a7 where b = 1) d where d.a = 5"),
          Case.of("count(*)", "(select * from t\u00a7 where a = 5) d"),
          Case.of("d.b", "(select a k, b, c from t\u00a7) d where d.k = 5 and d.b > 2"),
          Case.of(
              "d.b",
              "(select x.* from (select a, b, c from t\u00a7) x where x.b = 2) d where d.a = 5"),
          Case.of("d.u", "(select a, upper(e) u, b from t\u00a7) d where d.a = 5 and d.u = 'X'"),
          Case.of("d.b", "(select a + 1 k, b from t\u00a7 where a = 5) d where d.k = 6"),
          Case.of("d.m", "(select a, max(c) m from t\u00a7 group by a) d where d.a = 5"),
          Case.of(
              "d.m", "(select a, max(c) m from t\u00a7 group by a) d where d.m = 5 and d.a > 7"),
          Case.of("d.c", "(select distinct a, c from t\u00a7) d where d.a = 5"),
          Case.of(
              "d.c", "(select a, c from t\u00a7 union all select id, y from s) d where d.a = 5"),
          Case.of("d.c", "(select a, c from t\u00a7 union select id, y from s) d where d.a = 5"),
          Case.of(
              "s.y, d.c",
              "s left join (select a, c from t\u00a7 where b = 1) d on d.a = s.x where s.id = 3"),
          Case.of(
              "s.y, d.c",
              "s join (select a, c from t\u00a7 where b = 1) d on d.a = s.x where s.id = 3"),
          Case.of(
              "s.y, d.c",
              "(select id, x, y from s where id = 3) s join (select a, c from t\u00a7) d on d.a ="
                  + " s.x"),
          Case.of(
              "s.y, d.u",
              "s left join (select a, coalesce(e, 'x') u from t\u00a7) d on d.a = s.x where s.id ="
                  + " 3"),
          Case.of(
              "s.y, d.m",
              "s join (select a, max(c) m from t\u00a7 where b = 1 group by a) d on d.a = 5 where"
                  + " s.id = 3"),
          Case.of(
              "d.r",
              "(select a, row_number() over (partition by a order by b) r from t\u00a7) d where d.a"
                  + " = 5"),
          Case.of(
              "d.r", "(select a, row_number() over (order by b) r from t\u00a7) d where d.a = 5"),
          Case.of(
              "q.c",
              "(with d as (select a, b, c from t\u00a7 where b = 1) select c from d where d.a = 5)"
                  + " q"),
          Case.of(
              "q.n",
              "(with d as (select a, b, c from t\u00a7 where b = 1) select d.b n from d join d e on"
                  + " e.a = d.a where d.a = 5) q"),
          Case.of(
              "q.m",
              "(with d as (select a, max(c) m from t\u00a7 group by a) select m from d where a = 5)"
                  + " q"));

  @Test
  @DisplayName("SQLite")
  void sqlite() throws Exception {
    hold(new SqlitePlanner(), 44);
  }

  @Test
  @DisplayName("MariaDB")
  void mariadb() throws Exception {
    hold(MariaDbPlanner.start(), 40);
  }

  @Test
  @DisplayName("PostgreSQL")
  void postgresql() throws Exception {
    hold(PostgresPlanner.start(), 44);
  }

  @Test
  @DisplayName("H2")
  void h2() throws Exception {
    hold(new H2Planner(), 40);
  }

  @Test
  @DisplayName("HSQLDB")
  void hsqldb() throws Exception {
    hold(new HsqlDbPlanner(), 10);
  }

  @Test
  @DisplayName("Derby")
  void derby() throws Exception {
    hold(new DerbyPlanner(), 30);
  }

  /**
   * Compares on both indexes. HSQLDB cannot be told which index to use, so that nothing follows
   * from one that it does not use.
   *
   * @param atLeast how many pairs of query and index the planner must have used the index for
   */
  private static void hold(EmbeddedPlanner planner, int atLeast) throws Exception {
    try (planner) {
      TestTable t = table("t", List.of("id", "a", "b", "c"), true);
      TestTable s = table("s", List.of("id", "x", "y"), false);
      planner.create(t);
      planner.create(s);
      Prediction prediction = new Prediction(planner.dialect(), List.of(t, s));
      List<String> differing = new ArrayList<>();
      int used = 0;
      for (TestIndex index : t.indexes()) {
        planner.createIndex(index);
        planner.analyze(t);
        planner.analyze(s);
        for (Case one : CASES) {
          TestQuery asked = one.query();
          PlannerWord theirs;
          try {
            theirs = planner.ask(asked, t, index);
          } catch (SQLException e) {
            continue;
          }
          OurWord ours = prediction.word(prediction.query(asked), index);
          used += theirs.used() ? 1 : 0;
          boolean told = theirs.used() || !(planner instanceof HsqlDbPlanner);
          if (told && !agree(ours, theirs)) {
            differing.add(
                String.join(
                    "\n  ",
                    index.name() + ": " + asked.sql(),
                    "ours   " + ours.summary(),
                    "theirs used " + theirs.used() + ", matching " + theirs.matching(),
                    theirs.plan().replaceAll("\\s+", " ").replaceFirst("^(.{600}).*$", "$1")));
          }
        }
        planner.dropIndex(index);
      }
      assertThat(differing).as("%s, %d used", planner.version(), used).isEmpty();
      assertThat(used).isGreaterThanOrEqualTo(atLeast);
    }
  }

  /** True where nothing is said that the planner denies. */
  private static boolean agree(OurWord ours, PlannerWord theirs) {
    if (!theirs.used()) {
      return ours.matching().isEmpty();
    }
    boolean covering = ours.candidate().covering();
    return theirs.matching().orElse(ours.matching()).equals(ours.matching())
        && theirs.covering().orElse(covering) == covering;
  }

  private static TestTable table(String name, List<String> numbers, boolean indexed) {
    List<TestColumn> columns = new ArrayList<>();
    numbers.forEach(
        column ->
            columns.add(
                new TestColumn(
                    column, ValueKind.INTEGER, !column.equals("id"), 60, Optional.empty())));
    columns.add(new TestColumn("e", ValueKind.TEXT, true, 60, Optional.empty()));
    List<Integer[]> rows = new ArrayList<>();
    for (int i = 0; i < 600; i++) {
      Integer[] row = new Integer[columns.size()];
      row[0] = i;
      for (int c = 1; c < row.length; c++) {
        row[c] = (i * (c + 6) + i / 7) % 60;
      }
      rows.add(row);
    }
    List<TestIndex> indexes =
        indexed ? List.of(index("t_a_b", "a", "b"), index("t_b_a_c", "b", "a", "c")) : List.of();
    return new TestTable(name, columns, List.of("id"), rows, indexes);
  }

  private static TestIndex index(String name, String... columns) {
    return new TestIndex(
        name,
        "t",
        false,
        java.util.Arrays.stream(columns)
            .map(column -> new TestKey(column, false, false, Optional.empty()))
            .toList(),
        List.of(),
        Optional.empty());
  }
}
