package dev.colonnade.planner;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/**
 * Holds our word on generated queries, tables and indexes against the planners of six databases.
 *
 * <p>{@code -Dcolonnade.planner.triples=10000} asks more and writes {@code docs/agreement.md};
 * {@code -Dcolonnade.planner.seed=N} generates another workload; {@code
 * -Dcolonnade.planner.show=PATTERN} prints the known differences whose names match; {@code
 * -Dcolonnade.planner.groups=21,63} asks about these groups of tables only and writes nothing.
 */
class PlannerAgreementTest {
  private static final String TRIPLES = "colonnade.planner.triples";
  private static final String GROUPS = "colonnade.planner.groups";
  private static final int WANTED = Integer.getInteger(TRIPLES, 1000);
  private static final long SEED = Long.getLong("colonnade.planner.seed", 5);
  private static final Map<String, Agreement> RESULTS = new ConcurrentHashMap<>();

  @Test
  @DisplayName("SQLite")
  void sqlite() throws Exception {
    hold(new SqlitePlanner());
  }

  @Test
  @DisplayName("MariaDB")
  void mariadb() throws Exception {
    hold(MariaDbPlanner.start());
  }

  @Test
  @DisplayName("PostgreSQL")
  void postgresql() throws Exception {
    hold(PostgresPlanner.start());
  }

  @Test
  @DisplayName("H2")
  void h2() throws Exception {
    hold(new H2Planner());
  }

  @Test
  @DisplayName("HSQLDB")
  void hsqldb() throws Exception {
    hold(new HsqlDbPlanner());
  }

  @Test
  @DisplayName("Derby")
  void derby() throws Exception {
    hold(new DerbyPlanner());
  }

  private static void hold(EmbeddedPlanner planner) throws Exception {
    try (planner) {
      Agreement agreement = PlannerRun.run(planner, SEED, WANTED);
      System.out.println(planner.version() + ", seed " + SEED + ": " + agreement.summary());
      RESULTS.put(planner.version(), agreement);
      assertThat(agreement.disagreements())
          .as("seed %d on %s: %s", SEED, planner.version(), agreement.summary())
          .isEmpty();
    }
  }

  @AfterAll
  static void write() throws IOException {
    if (System.getProperty(TRIPLES) != null && System.getProperty(GROUPS) == null) {
      AgreementPage.write(Path.of("..", "docs", "agreement.md"), SEED, WANTED, RESULTS);
    }
  }
}
