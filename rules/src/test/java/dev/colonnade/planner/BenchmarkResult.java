package dev.colonnade.planner;

import dev.colonnade.access.Candidate;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.schema.Table;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** Counts over the queries of one workload on one database. */
final class BenchmarkResult {
  /** Queries whose differences are printed with text and plan where they are met, as a pattern. */
  private static final String SHOWN = System.getProperty("colonnade.benchmark.show", "");

  private final String workload;
  private final String version;
  private final String database;
  private final int queries;
  private final Map<String, String> refused = new TreeMap<>();
  private final List<String> notUnderstood = new ArrayList<>();
  private final Map<BenchmarkDifference, Integer> known = new TreeMap<>();
  private final List<String> unexplained = new ArrayList<>();
  private int planned;
  private int scans;
  private int compared;
  private int ordersCompared;
  private int agreed;

  BenchmarkResult(String workload, String version, String database, int queries) {
    this.workload = workload;
    this.version = version;
    this.database = database;
    this.queries = queries;
  }

  /**
   * Our word and a plan's on one scan.
   *
   * @param query the whole query
   * @param block of the query in which the table stands
   * @param table the table with its indexes
   * @param use its number in the query
   * @param inOrder whether the plan needs no sort; empty where that is not compared
   * @param matching the columns that we say are sought on
   * @param differing what of matching, covering and ordered differs
   */
  record Comparison(
      Query query,
      QueryBlock block,
      Table table,
      int use,
      String sql,
      String plan,
      PlannedScan scan,
      Optional<Boolean> inOrder,
      Candidate ours,
      List<String> matching,
      List<String> differing) {
    /** Copies the lists. */
    Comparison {
      matching = List.copyOf(matching);
      differing = List.copyOf(differing);
    }

    String summary() {
      return String.join("+", differing)
          + " "
          + scan.summary()
          + inOrder.map(it -> ", ordered " + it).orElse("")
          + "; ours matching "
          + matching
          + ", covering "
          + ours.covering()
          + inOrder
              .map(it -> ", ordered " + ours.orderServed() + " " + ours.groupingServed())
              .orElse("")
          + " ("
          + ours.remark()
          + ")";
    }
  }

  void refused(String query, SQLException reason) {
    refused.put(query, String.valueOf(reason.getMessage()).lines().findFirst().orElse(""));
  }

  void notUnderstood(String query) {
    notUnderstood.add(query);
  }

  void countPlanned() {
    planned++;
  }

  void countScan() {
    scans++;
  }

  void compared(String query, Comparison it) {
    compared++;
    if (it.inOrder().isPresent()) {
      ordersCompared++;
    }
    if (it.differing().isEmpty()) {
      agreed++;
      return;
    }
    List<Optional<BenchmarkDifference>> reasons =
        it.differing().stream().map(what -> BenchmarkDifference.of(database, what, it)).toList();
    reasons.forEach(reason -> reason.ifPresent(fact -> known.merge(fact, 1, Integer::sum)));
    if (reasons.stream().anyMatch(Optional::isEmpty)) {
      unexplained.add(query + " " + it.summary());
    }
    if (query.matches(SHOWN)) {
      System.out.println(
          String.join("\n  ", query + " " + reasons, it.summary(), it.sql(), it.plan()));
    }
  }

  String workload() {
    return workload;
  }

  String version() {
    return version;
  }

  int queries() {
    return queries;
  }

  int planned() {
    return planned;
  }

  /** The queries that the database refuses, with the reason. */
  Map<String, String> refused() {
    return refused;
  }

  /** The queries that we do not read. */
  List<String> notUnderstood() {
    return notUnderstood;
  }

  int scans() {
    return scans;
  }

  int compared() {
    return compared;
  }

  int ordersCompared() {
    return ordersCompared;
  }

  int agreed() {
    return agreed;
  }

  int explained() {
    return compared - agreed - unexplained.size();
  }

  Map<BenchmarkDifference, Integer> known() {
    return known;
  }

  List<String> unexplained() {
    return unexplained;
  }

  String summary() {
    return workload
        + " on "
        + version
        + ": planned "
        + planned
        + " of "
        + queries
        + ", not read "
        + notUnderstood.size()
        + ", scans "
        + scans
        + ", compared "
        + compared
        + " (orders "
        + ordersCompared
        + "), the same "
        + agreed
        + ", explained "
        + explained()
        + ", not explained "
        + unexplained.size()
        + ", known "
        + known;
  }
}
