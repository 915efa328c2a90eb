package dev.colonnade.measure;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;

/**
 * A plan of PostgreSQL, {@code EXPLAIN (FORMAT JSON)}.
 *
 * <p>{@code Index Cond} also lists conditions that are only checked on the entries. The scan is
 * bounded by "equality constraints on leading columns, plus any inequality constraints on the first
 * column that does not have an equality constraint" (manual, chapter 11.3).
 */
final class PostgresPlan {
  private static final ObjectMapper JSON = new ObjectMapper();

  private PostgresPlan() {}

  static PlannedReads of(String json) throws SQLException {
    JsonNode plan;
    try {
      plan = JSON.readTree(json).path(0).path("Plan");
    } catch (JsonProcessingException e) {
      throw new SQLException("the plan is no JSON", e);
    }
    List<PlannedRead> reads = new ArrayList<>();
    collect(plan, "", reads);
    return new PlannedReads(reads, json.contains("Sort\""));
  }

  private static void collect(JsonNode node, String heap, List<PlannedRead> reads) {
    String alias = node.path("Alias").asText();
    String index = node.path("Index Name").asText();
    String condition = node.path("Index Cond").asText();
    String below = heap;
    switch (node.path("Node Type").asText()) {
      case "Seq Scan" -> reads.add(PlannedRead.whole(alias));
      case "Index Scan", "Index Only Scan" ->
          reads.add(
              read(alias, index, condition)
                  .withCovering(node.path("Node Type").asText().equals("Index Only Scan")));
      case "Bitmap Index Scan" -> reads.add(read(heap, index, condition));
      case "BitmapOr", "BitmapAnd" -> {
        node.findValues("Index Name")
            .forEach(it -> reads.add(PlannedRead.through(heap, it.asText())));
        return;
      }
      case "Bitmap Heap Scan" -> below = alias;
      default -> {
        // joins, sorts and the like name no table of their own
      }
    }
    for (JsonNode child : node.path("Plans")) {
      collect(child, below, reads);
    }
  }

  private static PlannedRead read(String alias, String index, String condition) {
    return PlannedRead.through(alias, index)
        .withBounds(PlanClauses.bounds(condition))
        .withAfter(PlanClauses.tables(condition));
  }
}
