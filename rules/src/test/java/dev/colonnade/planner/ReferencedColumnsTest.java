package dev.colonnade.planner;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.query.Query;
import dev.colonnade.query.sql.ReferencedColumns;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.sql.Connection;
import java.sql.Statement;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

/** Which columns a query reads decides what an index must hold: PostgreSQL's own word on it. */
class ReferencedColumnsTest {
  @Test
  void tpch() throws Exception {
    hold(Benchmark.tpch(), 22);
  }

  @Test
  void tpcds() throws Exception {
    hold(Benchmark.tpcds(), 95);
  }

  private static void hold(Benchmark benchmark, int least) throws Exception {
    Map<String, ReferencedColumns> differing = new TreeMap<>();
    int compared = 0;
    try (EmbeddedPostgres server = EmbeddedPostgres.start();
        Connection connection = server.getPostgresDatabase().getConnection();
        Statement statement = connection.createStatement()) {
      statement.execute(
          "create function year(day date) returns integer language sql immutable"
              + " return extract(year from day)");
      for (TestTable table : benchmark.tables()) {
        statement.execute(table.ddl());
      }
      Prediction prediction = new Prediction(Dialects.postgresql(), benchmark.tables());
      for (Map.Entry<String, String> entry : benchmark.queries().entrySet()) {
        String sql = BenchmarkText.of(entry.getValue(), "postgresql");
        Optional<Query> query = prediction.query(sql);
        Optional<ReferencedColumns> columns =
            query.flatMap(it -> ReferencedColumns.compare(connection, sql, it));
        compared += columns.isPresent() ? 1 : 0; // the server takes no view of every text
        columns.filter(it -> !it.agree()).ifPresent(it -> differing.put(entry.getKey(), it));
      }
    }
    assertThat(differing).isEmpty();
    assertThat(compared).isGreaterThanOrEqualTo(least);
  }
}
