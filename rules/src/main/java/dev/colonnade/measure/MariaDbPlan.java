package dev.colonnade.measure;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import dev.colonnade.measure.PlannedRead.Bound;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * A plan of MariaDB, {@code EXPLAIN FORMAT=JSON}. {@code used_key_parts} are the columns that the
 * scan seeks on, except where the whole index is read; which of them is a range it does not tell.
 */
final class MariaDbPlan {
  private static final ObjectMapper JSON = new ObjectMapper();

  private MariaDbPlan() {}

  static PlannedReads of(String json) throws SQLException {
    List<PlannedRead> reads = new ArrayList<>();
    try {
      collect(JSON.readTree(json), reads);
    } catch (JsonProcessingException e) {
      throw new SQLException("the plan is no JSON", e);
    }
    return new PlannedReads(
        reads, json.contains("\"filesort\"") || json.contains("\"temporary_table\""));
  }

  private static void collect(JsonNode node, List<PlannedRead> reads) {
    node.properties()
        .forEach(
            field -> {
              JsonNode value = field.getValue();
              if (field.getKey().equals("table") && value.isObject()) {
                collect(value, reads);
                read(value).ifPresent(reads::add);
              } else {
                collect(value, reads);
              }
            });
    if (node.isArray()) {
      node.forEach(element -> collect(element, reads));
    }
  }

  private static Optional<PlannedRead> read(JsonNode table) {
    String alias = table.path("table_name").asText();
    String key = table.path("key").asText();
    if (alias.isEmpty() || alias.startsWith("<")) {
      return Optional.empty();
    }
    if (key.isEmpty()) {
      return Optional.of(PlannedRead.whole(alias));
    }
    List<Bound> bounds = new ArrayList<>();
    boolean all = table.path("access_type").asText().equals("index");
    if (!all) {
      table.path("used_key_parts").forEach(part -> bounds.add(new Bound(part.asText(), true)));
    }
    Set<String> after = new LinkedHashSet<>();
    for (JsonNode value : table.path("ref")) {
      String[] names = value.asText().split("\\.", -1);
      if (names.length > 1) {
        after.add(names[names.length - 2]);
      }
    }
    // Several indexes, and groups read by jumps, are told in words of their own.
    boolean plain =
        !table.has("index_merge") && !table.path("using_index_for_group_by").isValueNode();
    return Optional.of(
        PlannedRead.through(alias, key)
            .withBounds(plain ? Optional.of(bounds) : Optional.empty())
            .withCovering(
                table.path("using_index").asBoolean() || table.has("using_index_for_group_by"))
            .withAfter(after));
  }
}
