package dev.colonnade.planner;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.access.Candidate;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.DerivedUse;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/**
 * Holds our word on the queries of published benchmarks against PostgreSQL's planner, in its own
 * order of reading: which columns a scan seeks on and whether the index alone answers, for each
 * table that the query names once and that the plan reads through an index.
 */
class BenchmarkAgreementTest {
  /** What PostgreSQL puts behind an alias that a query uses again. */
  private static final String NUMBERED = "_\\d+$";

  /**
   * Queries that join a UNION ALL: PostgreSQL pushes the join into its branches (source, README of
   * the optimizer, "parameterized paths" and append relations), the analysis reads each by itself.
   */
  private static final Set<String> JOINED_UNIONS = Set.of("q5", "q54", "q71");

  @Test
  void tpch() throws Exception {
    hold(Benchmark.tpch(), 22, 60);
  }

  @Test
  void tpcds() throws Exception {
    hold(Benchmark.tpcds(), 99, 400);
  }

  private static void hold(Benchmark benchmark, int leastPlanned, int leastCompared)
      throws Exception {
    try (PostgresPlanner planner = PostgresPlanner.start()) {
      planner.execute(
          "create function year(day date) returns integer language sql immutable"
              + " return extract(year from day)");
      Map<String, TestIndex> indexes = new HashMap<>();
      for (TestTable table : benchmark.tables()) {
        planner.create(table);
        for (TestIndex index : table.indexes()) {
          planner.createIndex(index);
          indexes.put(index.name(), index);
        }
        if (!table.primaryKey().isEmpty()) {
          indexes.put(
              table.name() + "_pkey",
              Benchmark.index("pk_" + table.name(), table.name(), table.primaryKey()));
        }
        planner.analyze(table);
      }
      Prediction prediction = new Prediction(planner.dialect(), benchmark.tables());
      List<String> differing = new ArrayList<>();
      int planned = 0;
      int scans = 0;
      int compared = 0;
      for (Map.Entry<String, String> entry : benchmark.queries().entrySet()) {
        Optional<Query> query = prediction.query(entry.getValue());
        List<PlannedScan> found;
        try {
          found = planner.scans(entry.getValue(), indexes);
        } catch (SQLException e) {
          continue; // counted: too few that are planned fail the test
        }
        planned++;
        if (query.isEmpty()) {
          continue;
        }
        for (PlannedScan scan : found) {
          scans++;
          Optional<String> difference = compare(prediction, query.get(), scan);
          if (difference.isPresent()) {
            compared++;
            if (!difference.get().isEmpty()) {
              differing.add(entry.getKey() + " " + difference.get());
            }
          }
        }
      }
      System.out.printf(
          "%s on %s: planned %d of %d, scans %d, compared %d, differing %d%n",
          benchmark.name(),
          planner.version(),
          planned,
          benchmark.queries().size(),
          scans,
          compared,
          differing.size());
      assertThat(planned).isGreaterThanOrEqualTo(leastPlanned);
      assertThat(compared).isGreaterThanOrEqualTo(leastCompared);
      assertThat(differing)
          .allMatch(it -> JOINED_UNIONS.contains(it.substring(0, it.indexOf(' '))));
    }
  }

  /** Empty where the two cannot be compared, an empty text where they agree. */
  private static Optional<String> compare(Prediction prediction, Query query, PlannedScan scan) {
    List<QueryBlock> blocks =
        query.blocks().stream().filter(block -> use(block, scan.alias()).isPresent()).toList();
    if (blocks.size() != 1) {
      return Optional.empty();
    }
    QueryBlock block = blocks.get(0);
    Set<Integer> joined = uses(query, scan.joined());
    String difference = "";
    for (List<String> before : readings(scan)) {
      Candidate ours =
          prediction.candidate(
              query,
              use(block, scan.alias()).orElseThrow().use(),
              withBlocksAround(query, block, uses(query, before), joined),
              joined,
              scan.index());
      List<String> matching = ours.matching().stream().map(Expression::render).toList();
      if (matching.equals(scan.matching()) && ours.covering() == scan.covering()) {
        return Optional.of("");
      }
      difference = scan + ", ours " + matching + ", covering " + ours.covering();
    }
    return Optional.of(difference);
  }

  /**
   * What may be read before: where the plan numbers several tables of one alias, in an order of its
   * own, each of them may or may not be the one of the same block.
   */
  private static List<List<String>> readings(PlannedScan scan) {
    List<String> certain = new ArrayList<>();
    Set<String> open = new TreeSet<>();
    for (String alias : scan.readBefore()) {
      String base = alias.replaceFirst(NUMBERED, "");
      long times =
          scan.joined().stream().filter(it -> it.replaceFirst(NUMBERED, "").equals(base)).count();
      if (times == 1) {
        certain.add(alias);
      } else {
        open.add(base);
      }
    }
    List<List<String>> readings = new ArrayList<>(List.of(certain));
    for (String alias : open) {
      for (List<String> reading : List.copyOf(readings)) {
        List<String> longer = new ArrayList<>(reading);
        longer.add(alias);
        readings.add(longer);
      }
    }
    return readings;
  }

  private static Set<Integer> withBlocksAround(
      Query query, QueryBlock block, Set<Integer> read, Set<Integer> joined) {
    Set<Integer> all = new LinkedHashSet<>(read);
    for (Optional<Integer> up = block.parent(); up.isPresent(); ) {
      QueryBlock around = query.blocks().get(up.get() - 1);
      around.tables().stream()
          .map(TableUse::use)
          .filter(it -> !joined.contains(it))
          .forEach(all::add);
      up = around.parent();
    }
    return all;
  }

  private static Optional<TableUse> use(QueryBlock block, String alias) {
    return block.tables().stream()
        .filter(it -> Identifier.of(it.alias()).equals(Identifier.of(alias)))
        .findFirst();
  }

  /** The uses that aliases stand for; a derived table that the plan does not name, by its own. */
  private static Set<Integer> uses(Query query, List<String> aliases) {
    Set<Identifier> named = new HashSet<>();
    aliases.forEach(alias -> named.add(Identifier.of(alias.replaceFirst(NUMBERED, ""))));
    aliases.forEach(alias -> named.add(Identifier.of(alias)));
    Set<Integer> uses = new LinkedHashSet<>();
    for (QueryBlock block : query.blocks()) {
      for (FromItem item : block.from()) {
        boolean inside =
            item instanceof DerivedUse derived
                && derived.block().isPresent()
                && query.blocks().get(derived.block().get() - 1).from().stream()
                    .anyMatch(it -> named.contains(Identifier.of(it.alias())));
        if (inside || named.contains(Identifier.of(item.alias()))) {
          uses.add(item.use());
        }
      }
    }
    return uses;
  }
}
