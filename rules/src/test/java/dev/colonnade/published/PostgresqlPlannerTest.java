package dev.colonnade.published;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import dev.colonnade.access.Candidate;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Expression;
import dev.colonnade.published.SeededQueries.Case;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/**
 * PostgreSQL 18's planner on queries made up from a seed, with every way but the index switched
 * off: whether the index answers alone, whether a sort is left, and which columns stand in Index
 * Cond. Index Cond names matching and screening columns alike, so only their union is compared.
 */
class PostgresqlPlannerTest {
  private static final long SEED = 47;
  private static final int QUERIES = 800;
  private static final Pattern COLUMN = Pattern.compile("\\b([abcd])\\b");

  @Test
  void the_planner_reads_the_index_as_predicted() throws SQLException, IOException {
    SeededQueries queries = new SeededQueries(SEED);
    List<String> disagreements = new ArrayList<>();
    int sorts = 0;
    try (EmbeddedPostgres server = EmbeddedPostgres.start();
        Connection connection = server.getPostgresDatabase().getConnection();
        Statement statement = connection.createStatement()) {
      for (String way : List.of("seqscan", "bitmapscan", "sort", "incremental_sort")) {
        statement.execute("set enable_" + way + " = off");
      }
      statement.execute("create table t(id int, a int, b int, c int, d int, z int)");
      statement.execute(
          "insert into t select g, g % 10, g % 7, g % 5, g % 3, g from generate_series(1, 3000) g");
      statement.execute("vacuum analyze t");
      for (int i = 0; i < QUERIES; i++) {
        Case next = queries.next();
        statement.execute("create index ix on t(" + next.key() + ")");
        JsonNode plan = plan(statement, next.sql());
        statement.execute("drop index ix");
        Candidate candidate = next.predicted(Dialects.postgresql());
        String found = describe(plan, candidate);
        String predicted = describe(candidate);
        if (!found.equals(predicted)) {
          disagreements.add(next + ": " + predicted + ", but " + found + " in " + plan);
        }
        sorts += found.endsWith("sorted") ? 1 : 0;
      }
    }
    assertThat(disagreements).as("seed " + SEED).isEmpty();
    assertThat(sorts).isGreaterThan(QUERIES / 20);
  }

  private static JsonNode plan(Statement statement, String sql) throws SQLException, IOException {
    try (ResultSet rows = statement.executeQuery("explain (format json) " + sql)) {
      rows.next();
      return new ObjectMapper().readTree(rows.getString(1)).get(0).get("Plan");
    }
  }

  private static String describe(JsonNode plan, Candidate candidate) {
    boolean sorted = false;
    JsonNode node = plan;
    while (node.has("Plans")) {
      sorted |= node.get("Node Type").asText().contains("Sort");
      node = node.get("Plans").get(0);
    }
    String type = node.get("Node Type").asText();
    if (!type.startsWith("Index")) {
      // Contradicting conditions are settled without a look at the table, and an index of no use
      // leaves the table: nothing to compare.
      boolean noUse = candidate.matching().isEmpty() && !candidate.covering();
      return type.equals("Result") || noUse ? describe(candidate) : type;
    }
    Set<String> columns = new TreeSet<>();
    Matcher condition = COLUMN.matcher(node.path("Index Cond").asText());
    while (condition.find()) {
      columns.add(condition.group(1));
    }
    boolean ordered = candidate.orderServed().isPresent();
    return describe(columns, type.equals("Index Only Scan"), ordered, sorted);
  }

  private static String describe(Candidate candidate) {
    Set<String> columns = new TreeSet<>();
    candidate.matching().stream().map(Expression::render).forEach(columns::add);
    candidate.screening().stream().map(Expression::render).forEach(columns::add);
    boolean ordered = candidate.orderServed().isPresent();
    return describe(columns, candidate.covering(), ordered, !candidate.orderServed().orElse(true));
  }

  /** An index that answers alone also checks what no index could search by: columns left out. */
  private static String describe(
      Set<String> columns, boolean covering, boolean ordered, boolean sorted) {
    return (covering ? "covering" : "searching or checking " + String.join(", ", columns))
        + (ordered ? (sorted ? " sorted" : " in order") : "");
  }
}
