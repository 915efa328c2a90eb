package dev.colonnade.planner;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.planner.TestTable.TestIndex;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * SQLite: {@code EXPLAIN QUERY PLAN} of a query with {@code INDEXED BY}. The terms in parentheses
 * are the seek key (sqlite.org, "EXPLAIN QUERY PLAN", section 1.1).
 */
final class SqlitePlanner extends EmbeddedPlanner {
  private static final Pattern STEP =
      Pattern.compile(
          "(?<how>SEARCH|SCAN) (?<table>\\w+)(?: EXISTS)?(?: USING (?<covering>COVERING )?INDEX"
              + " (?<index>\\w+)(?: \\((?<terms>.*)\\))?)?.*");
  private static final Pattern TERM =
      Pattern.compile("^\\(?(<expr>|[\\w,]+)\\)?(=|<|>|<=|>=)\\(?\\?.*$");

  SqlitePlanner() throws SQLException {
    super(
        Dialects.sqlite(),
        new Abilities(
            false,
            true,
            false,
            false,
            Optional.of("is"),
            Optional.of("nocase"),
            Optional.empty(),
            false,
            false,
            false,
            true,
            "limit %d offset 3",
            "limit %d"),
        DriverManager.getConnection("jdbc:sqlite::memory:"));
    execute("pragma automatic_index = off");
  }

  @Override
  void analyze(TestTable table) throws SQLException {
    execute("analyze");
  }

  @Override
  PlannerWord ask(TestQuery query, TestTable table, TestIndex index) throws SQLException {
    String sql = query.sql(name -> name.equals(table.name()) ? " indexed by " + index.name() : "");
    List<String> lines;
    try {
      lines = rows("explain query plan " + sql);
    } catch (SQLException e) {
      if (e.getMessage().contains("no query solution")) {
        return PlannerWord.notUsed("no query solution");
      }
      throw e;
    }
    List<String> steps = lines.stream().map(SqlitePlanner::detail).toList();
    String plan = String.join("; ", steps);
    Set<String> apart = apart(lines);
    List<String> before = new ArrayList<>();
    PlannerWord word = PlannerWord.notUsed(plan);
    for (String line : lines) {
      Matcher step = STEP.matcher(detail(line));
      if (!step.matches()) {
        continue;
      }
      if (!step.group("table").equals(table.name())) {
        if (!word.used() && !apart.contains(id(line))) {
          before.add(step.group("table"));
        }
      } else if (index.name().equals(step.group("index"))) {
        word =
            seek(step.group("terms"), index, plan)
                .withCovering(step.group("covering") != null)
                .withApart(apart(query, lines, apart))
                .withReadBefore(apart.contains(id(line)) ? List.of() : before);
      }
    }
    boolean several = steps.stream().anyMatch(it -> it.startsWith("MULTI-INDEX"));
    if (!word.used() || several) {
      return PlannerWord.notUsed(plan);
    }
    return query.asksOneOrder() ? word.withOrdered(!sorts(plan)) : word;
  }

  @Override
  Optional<Boolean> inOrder(String plan, boolean grouped, boolean sorted) {
    return grouped || sorted ? Optional.of(!sorts(plan)) : Optional.empty();
  }

  private static boolean sorts(String plan) {
    return plan.contains("USE TEMP B-TREE");
  }

  /**
   * Steps below one line of the plan are one join; a table that several searches of an OR read is
   * one.
   */
  @Override
  PlannedQuery plan(String sql, BenchmarkIndexes indexes) throws SQLException {
    List<String> lines = rows("explain query plan " + sql);
    Set<String> branches = new HashSet<>();
    Set<Matcher> several = new HashSet<>();
    Map<String, List<Matcher>> joins = new LinkedHashMap<>();
    String united = "";
    for (String line : lines) {
      String parent = line.split("\t", -1)[1];
      Matcher step = STEP.matcher(detail(line));
      if (detail(line).startsWith("MULTI-INDEX")) {
        united = parent;
        branches.add(id(line));
      } else if (detail(line).startsWith("INDEX ")) {
        branches.add(id(line));
      } else if (step.matches() && !branches.contains(parent)) {
        joins.computeIfAbsent(parent, key -> new ArrayList<>()).add(step);
      } else if (step.matches() && !united.isEmpty()) {
        joins.computeIfAbsent(united, key -> new ArrayList<>()).add(step);
        several.add(step);
        united = "";
      }
    }
    List<PlannedScan> result = new ArrayList<>();
    for (List<Matcher> join : joins.values()) {
      List<String> all = join.stream().map(it -> it.group("table")).toList();
      for (int i = 0; i < join.size(); i++) {
        Matcher step = join.get(i);
        if (several.contains(step)) {
          continue;
        }
        String name = String.valueOf(step.group("index"));
        boolean skips = String.valueOf(step.group("terms")).startsWith("ANY(");
        Optional<TestIndex> index = skips ? Optional.empty() : indexes.find(name);
        if (index.isPresent()) {
          result.add(
              new PlannedScan(
                  all.get(i),
                  index.get().name(),
                  terms(step.group("terms"), index.get()),
                  Optional.of(step.group("covering") != null),
                  all.subList(0, i),
                  all));
        }
      }
    }
    Optional<String> first =
        joins.values().stream().findFirst().map(join -> join.get(0).group("table"));
    return new PlannedQuery(
        result, first, String.join("; ", lines.stream().map(SqlitePlanner::detail).toList()));
  }

  private static String id(String row) {
    return row.split("\t", -1)[0];
  }

  /** The tables of subqueries that are no step of the join, with or without steps of their own. */
  private static Set<String> apart(TestQuery query, List<String> lines, Set<String> steps) {
    Set<String> tables = new TreeSet<>(query.below());
    for (String line : lines) {
      Matcher step = STEP.matcher(detail(line));
      if (!steps.contains(id(line)) && step.matches()) {
        tables.remove(step.group("table"));
      }
    }
    return tables;
  }

  /** The steps inside subqueries. */
  private static Set<String> apart(List<String> rows) {
    Set<String> apart = new HashSet<>();
    for (String row : rows) {
      if (detail(row).contains("SUBQUERY") || apart.contains(row.split("\t", -1)[1])) {
        apart.add(id(row));
      }
    }
    return apart;
  }

  private static String detail(String row) {
    return row.substring(row.lastIndexOf('\t') + 1);
  }

  private static PlannerWord seek(String terms, TestIndex index, String plan) {
    return terms != null && terms.startsWith("ANY(")
        ? PlannerWord.skips(plan)
        : PlannerWord.seeks(terms(terms, index), plan);
  }

  /** Terms stand in key order; {@code <expr>} is the next part that is an expression. */
  private static List<String> terms(String terms, TestIndex index) {
    List<String> matching = new ArrayList<>();
    if (terms == null) {
      return matching;
    }
    boolean lower = false;
    for (String term : terms.split(" AND ", -1)) {
      Matcher parts = TERM.matcher(term);
      if (!parts.matches()) {
        throw new IllegalStateException("not understood: " + term);
      }
      for (String name : parts.group(1).split(",", -1)) {
        String key = name;
        if (name.equals("rowid")) {
          key = "id";
        } else if (name.equals("<expr>")) {
          boolean again = lower && parts.group(2).startsWith("<");
          key = index.key().get(again ? matching.size() - 1 : matching.size()).text();
        }
        if (!matching.contains(key)) {
          matching.add(key);
        }
      }
      lower = parts.group(2).startsWith(">");
    }
    return matching;
  }
}
