package dev.colonnade.published;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.access.Candidate;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Expression;
import dev.colonnade.published.SeededQueries.Case;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/**
 * SQLite's planner on queries made up from a seed: EXPLAIN QUERY PLAN names the columns that bound
 * a scan, says whether the index covers the query, and whether a sort is left. INDEXED BY makes it
 * say so about the index in question.
 *
 * <p>IS NOT NULL is left out: whether it bounds a scan depends on how SQLite was built.
 */
class SqlitePlannerTest {
  private static final long SEED = 31;
  private static final int QUERIES = 2_000;
  private static final Pattern SEARCH =
      Pattern.compile("SEARCH t USING (COVERING )?INDEX ix \\((.*)\\)");

  @Test
  void the_planner_reads_the_index_as_predicted() throws SQLException {
    SeededQueries queries = new SeededQueries(SEED);
    List<String> disagreements = new ArrayList<>();
    int searches = 0;
    int sorts = 0;
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite::memory:");
        Statement statement = connection.createStatement()) {
      statement.execute(
          "create table t(id integer primary key, a int, b int, c int, d int, z int)");
      for (int i = 0; i < QUERIES; i++) {
        Case next = queries.next();
        statement.execute("create index ix on t(" + next.key() + ")");
        List<String> plan = plan(statement, next.sql().replace("from t", "from t indexed by ix"));
        statement.execute("drop index ix");
        String found = describe(plan, next.sql());
        String predicted = describe(next.predicted(Dialects.sqlite()));
        if (!found.equals(predicted)) {
          disagreements.add(next + ": " + predicted + ", but " + plan);
        }
        searches += found.startsWith("search") ? 1 : 0;
        sorts += found.endsWith("sorted") ? 1 : 0;
      }
    }
    assertThat(disagreements).as("seed " + SEED).isEmpty();
    assertThat(searches).isGreaterThan(QUERIES / 3);
    assertThat(sorts).isGreaterThan(QUERIES / 20);
  }

  private static List<String> plan(Statement statement, String sql) {
    List<String> plan = new ArrayList<>();
    try (ResultSet rows = statement.executeQuery("explain query plan " + sql)) {
      while (rows.next()) {
        plan.add(rows.getString("detail"));
      }
    } catch (SQLException noWay) {
      plan.add(noWay.getMessage());
    }
    return plan;
  }

  private static String describe(List<String> plan, String sql) {
    Matcher search = SEARCH.matcher(plan.get(0));
    if (!search.matches()) {
      return "no search";
    }
    List<String> columns = new ArrayList<>();
    for (String term : search.group(2).split(" AND ", -1)) {
      String column = term.replaceAll("\\W.*", "");
      if (!columns.contains(column)) {
        columns.add(column);
      }
    }
    boolean sorted = plan.stream().anyMatch(step -> step.contains("TEMP B-TREE"));
    return describe(columns, search.group(1) != null, sql.contains("order by"), sorted);
  }

  private static String describe(Candidate candidate) {
    return candidate.matching().isEmpty()
        ? "no search"
        : describe(
            candidate.matching().stream().map(Expression::render).toList(),
            candidate.covering(),
            candidate.orderServed().isPresent(),
            !candidate.orderServed().orElse(true));
  }

  private static String describe(
      List<String> columns, boolean covering, boolean ordered, boolean sorted) {
    return "search by "
        + String.join(", ", columns)
        + (covering ? " covering" : "")
        + (ordered ? (sorted ? " sorted" : " in order") : "");
  }
}
