package dev.colonnade.counter;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.sql.SQLException;
import java.util.OptionalDouble;

/**
 * PostgreSQL counts pages in {@code EXPLAIN (ANALYZE, BUFFERS)}: each time one is asked for. A
 * bitmap scan asks for each page of the table once, so that different pages are counted. One index
 * is asked about by marking all others of the table as not valid for the time of the query.
 */
final class CountingPostgres extends CountingDatabase {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final EmbeddedPostgres server;

  private CountingPostgres(EmbeddedPostgres server) throws SQLException {
    super(server.getPostgresDatabase().getConnection());
    this.server = server;
    execute("set enable_seqscan = off");
    execute("set enable_indexscan = off");
    execute("set enable_indexonlyscan = off");
    execute("set work_mem = '64MB'");
    execute("set jit = off");
    execute("set max_parallel_workers_per_gather = 0");
  }

  static CountingPostgres start() throws IOException, SQLException {
    return new CountingPostgres(EmbeddedPostgres.builder().setLocaleConfig("locale", "C").start());
  }

  @Override
  String analyze(String table) {
    return "vacuum analyze " + table;
  }

  @Override
  OptionalDouble entries(CountedQuery query, String index) {
    return OptionalDouble.empty();
  }

  /** Pages of an index, as counted when the table was analysed. */
  double pagesOf(String index) throws SQLException {
    return Double.parseDouble(
        rows("select relpages from pg_class where relname = '" + index + "'").get(0));
  }

  /** Pages of index and table that the query asks for; empty where the index is not used. */
  OptionalDouble pages(CountedQuery query, String index) throws SQLException {
    String table = "'" + query.tables().get(0) + "'::regclass";
    String others = " where indrelid = " + table + " and indexrelid <> '" + index + "'::regclass";
    execute("update pg_index set indisvalid = false" + others);
    try {
      String plan = "explain (analyze, buffers, format json) " + query.sql();
      rows(plan);
      String text = String.join("\n", rows(plan));
      if (!text.contains("\"" + index + "\"")) {
        return OptionalDouble.empty();
      }
      JsonNode top = JSON.readTree(text).get(0).get("Plan");
      return OptionalDouble.of(
          top.get("Shared Hit Blocks").asDouble() + top.get("Shared Read Blocks").asDouble());
    } catch (JsonProcessingException e) {
      throw new SQLException("the plan is no JSON", e);
    } finally {
      execute("update pg_index set indisvalid = true" + others);
    }
  }

  @Override
  public void close() throws SQLException, IOException {
    super.close();
    server.close();
  }
}
