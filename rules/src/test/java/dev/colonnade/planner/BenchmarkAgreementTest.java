package dev.colonnade.planner;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentSkipListMap;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

/**
 * Holds our word on the queries of published workloads against the planners of six databases, in
 * their own order of reading: which columns a scan seeks on, whether the index alone answers, and
 * whether a sort is left out.
 *
 * <p>{@code -Dcolonnade.benchmark.every=0} asks every distinct query of foodmart, other wordings of
 * TPC-DS (but for Derby, which gets all of it instead of a quarter), and writes the section on
 * published benchmarks in {@code docs/agreement.md}; N instead of 0 asks one in N of those queries
 * that differ in more than their constants. {@code -Dcolonnade.benchmark.show=PATTERN} prints text
 * and plan of the differing queries whose names match.
 */
class BenchmarkAgreementTest {
  private static final String PROPERTY = "colonnade.benchmark.every";
  private static final int EVERY = Integer.getInteger(PROPERTY, 20);
  private static final boolean ALL = System.getProperty(PROPERTY) != null;
  private static final Map<String, BenchmarkResult> RESULTS = new ConcurrentSkipListMap<>();

  @Test
  void postgresql() throws Exception {
    try (EmbeddedPlanner planner = PostgresPlanner.start()) {
      planner.execute(
          "create function year(day date) returns integer language sql immutable"
              + " return extract(year from day)");
      hold(planner, Map.of("SSB", 45, "TPC-H", 60, "TPC-DS", 400, "foodmart", 300));
    }
  }

  @Test
  void sqlite() throws Exception {
    try (EmbeddedPlanner planner = new SqlitePlanner()) {
      hold(planner, Map.of("SSB", 35, "TPC-H", 55, "TPC-DS", 280, "foodmart", 280));
    }
  }

  @Test
  void mariadb() throws Exception {
    try (EmbeddedPlanner planner = MariaDbPlanner.start()) {
      hold(planner, Map.of("SSB", 45, "TPC-H", 55, "TPC-DS", 300, "foodmart", 270));
    }
  }

  @Test
  void h2() throws Exception {
    try (EmbeddedPlanner planner = new H2Planner()) {
      hold(planner, Map.of("SSB", 45, "TPC-H", 35, "TPC-DS", 190, "foodmart", 270));
    }
  }

  @Test
  void hsqldb() throws Exception {
    try (EmbeddedPlanner planner = new HsqlDbPlanner()) {
      hold(planner, Map.of("SSB", 45, "TPC-H", 32, "TPC-DS", 160, "foodmart", 260));
    }
  }

  @Test
  void derby() throws Exception {
    try (EmbeddedPlanner planner = DerbyPlanner.withoutHashJoins()) {
      hold(planner, Map.of("SSB", 12, "TPC-H", 12, "TPC-DS", ALL ? 24 : 4, "foodmart", 75));
    }
  }

  @AfterAll
  static void write() throws IOException {
    if (ALL) {
      BenchmarkPage.write(Path.of("..", "docs", "agreement.md"), RESULTS.values(), EVERY);
    }
  }

  private static List<Benchmark> workloads(EmbeddedPlanner planner) {
    boolean derby = planner.dialect().shortName().equals("derby");
    boolean slow = derby && !ALL;
    Benchmark tpcds = Benchmark.tpcds();
    List<Benchmark> workloads =
        new ArrayList<>(
            List.of(
                Benchmark.tpch(),
                StarSchema.benchmark(),
                slow ? tpcds.withEvery(4) : tpcds,
                Foodmart.benchmark(EVERY)));
    if (ALL && !derby) {
      workloads.addAll(Benchmark.tpcdsVariants());
    }
    return workloads;
  }

  private static void hold(EmbeddedPlanner planner, Map<String, Integer> leastCompared)
      throws Exception {
    List<String> open = new ArrayList<>();
    Map<String, Integer> compared = new LinkedHashMap<>();
    for (Benchmark benchmark : workloads(planner)) {
      BenchmarkResult result = BenchmarkRun.of(benchmark, planner);
      System.out.println(result.summary());
      RESULTS.put(result.workload() + " " + result.version(), result);
      compared.put(result.workload(), result.compared());
      result.unexplained().forEach(it -> open.add(result.workload() + " " + it));
      if (planner.dialect().shortName().equals("postgresql")) {
        assertThat(result.planned()).isGreaterThanOrEqualTo(result.queries() * 19 / 20);
      }
    }
    leastCompared.forEach(
        (workload, least) -> assertThat(compared.get(workload)).isGreaterThanOrEqualTo(least));
    assertThat(open).as("neither the same nor explained, on %s", planner.version()).isEmpty();
  }
}
