package dev.colonnade.planner;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * PostgreSQL: {@code EXPLAIN (FORMAT JSON)} with scans of the table and bitmaps switched off.
 *
 * <p>{@code Index Cond} also lists conditions that are only checked on the entries. Of those, the
 * ones that bound the scan are taken to be what the manual says they are: "equality constraints on
 * leading columns, plus any inequality constraints on the first column that does not have an
 * equality constraint" (chapter 11.3).
 */
final class PostgresPlanner extends EmbeddedPlanner {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final Pattern CLAUSE =
      Pattern.compile("^(?<left>.+?)(?<rest> (=|<|>|<=|>=|~<~|~<=~|~>~|~>=~|IS) .*)$");

  /** Steps whose inputs are queries of their own. */
  private static final Set<String> APART =
      Set.of("Subquery Scan", "Append", "Merge Append", "SetOp");

  private final EmbeddedPostgres server;

  private PostgresPlanner(EmbeddedPostgres server, Connection connection) throws SQLException {
    super(
        Dialects.postgresql(),
        new Abilities(
            true,
            true,
            true,
            false,
            Optional.of("is not distinct from"),
            Optional.of("\"C\""),
            Optional.of("text_pattern_ops"),
            true,
            true,
            true,
            true,
            "limit %d offset 3",
            "limit %d"),
        connection);
    this.server = server;
    for (String setting :
        List.of(
            "enable_seqscan",
            "enable_bitmapscan",
            "enable_hashagg",
            "enable_hashjoin",
            "enable_mergejoin",
            "enable_material",
            "enable_memoize",
            "jit")) {
      execute("set " + setting + " = off");
    }
    execute("set max_parallel_workers_per_gather = 0");
  }

  /** Starts a server of its own on a free port. */
  static PostgresPlanner start() throws IOException, SQLException {
    EmbeddedPostgres server = EmbeddedPostgres.builder().start();
    return new PostgresPlanner(server, server.getPostgresDatabase().getConnection());
  }

  @Override
  void analyze(TestTable table) throws SQLException {
    execute("vacuum analyze " + table.name());
  }

  @Override
  PlannerWord ask(TestQuery query, TestTable table, TestIndex index) throws SQLException {
    String plan = text("explain (format json, costs off) " + query.sql());
    JsonNode root = parsed(plan);
    String compact = root.toString();
    List<String> before = new ArrayList<>();
    JsonNode scan = scan(root.get(0).get("Plan"), table.name(), before);
    if (scan == null || !scan.path("Index Name").asText().equals(index.name())) {
      return PlannerWord.notUsed(compact);
    }
    PlannerWord word =
        PlannerWord.seeks(prefix(scan.path("Index Cond").asText(), index), compact)
            .withCovering(scan.path("Node Type").asText().equals("Index Only Scan"));
    boolean apart = isApart(root.get(0).get("Plan"), table.name(), false);
    word =
        word.withApart(
                query.tables().stream()
                    .filter(it -> isApart(root.get(0).get("Plan"), it, false))
                    .toList())
            .withReadBefore(apart ? List.of() : before);
    return query.asksOneOrder() ? word.withOrdered(!sorts(compact)) : word;
  }

  @Override
  Optional<Boolean> inOrder(String plan, boolean grouped, boolean sorted) {
    return grouped || sorted ? Optional.of(!sorts(plan)) : Optional.empty();
  }

  private static boolean sorts(String plan) {
    return plan.contains("\"Sort\"") || plan.contains("\"Incremental Sort\"");
  }

  @Override
  PlannedQuery plan(String sql, BenchmarkIndexes indexes) throws SQLException {
    List<PlannedScan> result = new ArrayList<>();
    List<String> joined = new ArrayList<>();
    JsonNode root = parsed(text("explain (format json, costs off) " + sql)).get(0).get("Plan");
    collect(root, indexes, joined, new ArrayList<>(), result);
    return new PlannedQuery(result, joined.stream().findFirst(), root.toString());
  }

  /**
   * Subqueries that are planned by themselves are joins of their own; the operands of a set
   * operation may take values from what is read before all of them, and stand for its rows behind.
   */
  private static void collect(
      JsonNode node,
      BenchmarkIndexes indexes,
      List<String> before,
      List<PlannedScan> join,
      List<PlannedScan> all) {
    Optional<TestIndex> index = indexes.find(node.path("Index Name").asText());
    String alias = node.path("Alias").asText();
    if (index.isPresent()) {
      PlannedScan scan =
          new PlannedScan(
              alias,
              index.get().name(),
              prefix(node.path("Index Cond").asText(), index.get()),
              Optional.of(node.path("Node Type").asText().equals("Index Only Scan")),
              before,
              List.of());
      join.add(scan);
    }
    if (!alias.isEmpty()) {
      before.add(alias);
    }
    boolean apart = APART.contains(node.path("Node Type").asText());
    boolean united =
        node.path("Node Type").asText().equals("Append") || alias.startsWith("*SELECT* ");
    List<String> around = united ? List.copyOf(before) : List.of();
    for (JsonNode child : node.path("Plans")) {
      if (apart || isSubplan(child)) {
        List<String> own = new ArrayList<>(around);
        List<PlannedScan> scans = new ArrayList<>();
        collect(child, indexes, own, scans, all);
        scans.forEach(it -> all.add(it.withJoined(own)));
        if (united) {
          own.stream().filter(it -> !before.contains(it)).forEach(before::add);
        }
      } else {
        collect(child, indexes, before, join, all);
      }
    }
    if (node.path("Parent Relationship").isMissingNode()) {
      join.forEach(it -> all.add(it.withJoined(before)));
    }
  }

  private static JsonNode parsed(String plan) throws SQLException {
    try {
      return JSON.readTree(plan);
    } catch (JsonProcessingException e) {
      throw new SQLException("plan is no JSON: " + plan, e);
    }
  }

  private static boolean isSubplan(JsonNode node) {
    return !node.path("Subplan Name").asText().isEmpty();
  }

  private static boolean isApart(JsonNode node, String table, boolean below) {
    boolean apart = below || isSubplan(node);
    if (node.path("Relation Name").asText().equals(table)) {
      return apart;
    }
    for (JsonNode child : node.path("Plans")) {
      if (isApart(child, table, apart)) {
        return true;
      }
    }
    return false;
  }

  /** The first scan of the table; the tables scanned before it are collected. */
  private static JsonNode scan(JsonNode node, String table, List<String> before) {
    String scanned = node.path("Relation Name").asText();
    if (scanned.equals(table)) {
      return node;
    }
    if (!scanned.isEmpty()) {
      before.add(scanned);
    }
    for (JsonNode child : node.path("Plans")) {
      JsonNode found = scan(child, table, isSubplan(child) ? new ArrayList<>(before) : before);
      if (found != null) {
        return found;
      }
    }
    return null;
  }

  private static List<String> prefix(String condition, TestIndex index) {
    List<String> matching = new ArrayList<>();
    List<String> clauses = clauses(condition);
    for (TestKey key : index.key()) {
      boolean point = false;
      boolean bound = false;
      List<String> row = List.of();
      for (String clause : clauses) {
        Matcher parts = CLAUSE.matcher(clause);
        if (!parts.matches()) {
          throw new IllegalStateException("not understood: " + clause);
        }
        String rest = parts.group("rest");
        List<String> left = left(parts.group("left"));
        if (left.get(0).equals(key.text())) {
          bound = true;
          point |= left.size() == 1 && (rest.startsWith(" = ") || rest.equals(" IS NULL"));
          row = left.size() > 1 ? left : row;
        }
      }
      if (!point && !row.isEmpty()) {
        return rowPrefix(matching, row, index);
      }
      if (bound) {
        matching.add(key.text());
      }
      if (!point) {
        break;
      }
    }
    return matching;
  }

  /** A row comparison bounds the columns that continue the key in its own order. */
  private static List<String> rowPrefix(List<String> matching, List<String> row, TestIndex index) {
    List<String> result = new ArrayList<>(matching);
    for (String column : row) {
      int next = result.size();
      boolean continues =
          next < index.key().size()
              && index.key().get(next).text().equals(column)
              && index.key().get(next).descending()
                  == index.key().get(matching.size()).descending();
      if (!continues) {
        break;
      }
      result.add(column);
    }
    return result;
  }

  private static List<String> left(String text) {
    String plain = text.replaceAll("::[a-z ]+", "");
    if (plain.startsWith("ROW(")) {
      plain = plain.substring(4, plain.length() - 1);
    }
    List<String> columns = new ArrayList<>();
    for (String column : plain.split(", ", -1)) {
      String bare = column;
      while (bare.startsWith("(") && bare.endsWith(")")) {
        bare = bare.substring(1, bare.length() - 1);
      }
      columns.add(bare.replaceAll("^(\\w+)\\(\\((\\w+)\\)\\)$", "$1($2)"));
    }
    return columns;
  }

  /** {@code ((a = 1) AND (b > 2))} taken apart. */
  private static List<String> clauses(String condition) {
    List<String> result = new ArrayList<>();
    if (condition.isEmpty()) {
      return result;
    }
    String inner = condition.substring(1, condition.length() - 1);
    if (!inner.startsWith("(") || !inner.contains(") AND (")) {
      return List.of(inner);
    }
    for (String part : inner.split("\\) AND \\(", -1)) {
      result.add(part);
    }
    result.set(0, result.get(0).substring(1));
    int last = result.size() - 1;
    result.set(last, result.get(last).substring(0, result.get(last).length() - 1));
    return result;
  }

  @Override
  public void close() throws SQLException, IOException {
    super.close();
    server.close();
  }
}
