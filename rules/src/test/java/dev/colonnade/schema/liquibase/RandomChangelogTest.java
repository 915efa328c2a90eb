package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import liquibase.GlobalConfiguration;
import liquibase.Scope;
import liquibase.changelog.ChangeLogParameters;
import liquibase.changelog.ChangeSet;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.database.Database;
import liquibase.database.DatabaseFactory;
import liquibase.database.DatabaseList;
import liquibase.database.jvm.JdbcConnection;
import liquibase.exception.LiquibaseException;
import liquibase.executor.ExecutorService;
import liquibase.logging.core.NoOpLogService;
import liquibase.parser.core.xml.XMLChangeLogSAXParser;
import liquibase.resource.ResourceAccessor;
import liquibase.ui.LoggerUIService;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Random change sets run by Liquibase itself on real databases: those that run are read as a
 * changelog, and tables, columns with nullability, keys and indexes must be the same. 15 changelogs
 * in a plain run; {@code -Dcolonnade.schema.changelogs=1000} asks for more and {@code
 * -Dcolonnade.schema.seed=7} for others. A failure shows the seed and the change sets.
 */
class RandomChangelogTest {
  private static final long SEED = Long.getLong("colonnade.schema.seed", 20260101L);
  private static final int CHANGELOGS = Integer.getInteger("colonnade.schema.changelogs", 15);
  private static final int CHANGE_SETS = 40;

  @TempDir Path directory;

  /** The databases with their shares in a run, in percent. */
  @ParameterizedTest
  @CsvSource({"H2, 30", "HSQLDB, 24", "SQLITE, 20", "POSTGRESQL, 12", "MARIADB, 8", "DERBY, 6"})
  void random_change_sets_lead_to_the_same_schema(RealDatabase database, int share)
      throws Exception {
    int changelogs = Math.max(1, CHANGELOGS * share / 100);
    System.out.println(database + ": " + changelogs + " random changelogs from seed " + SEED);
    int taken = 0;
    for (int i = 0; i < changelogs; i++) {
      try (Connection connection = database.open()) {
        taken += check(database, connection, SEED + i);
      }
    }
    assertThat(taken).as("change sets that ran").isGreaterThan(3 * changelogs);
  }

  private int check(RealDatabase database, Connection connection, long seed) throws Exception {
    RandomChangeSets random = new RandomChangeSets(seed, database);
    List<String> texts = new ArrayList<>();
    for (int id = 0; id < CHANGE_SETS; id++) {
      texts.add(random.next(id));
    }
    Files.writeString(directory.resolve("all.xml"), ChangelogFixture.wrap(String.join("", texts)));
    List<String> taken = new ArrayList<>();
    Map<String, Object> values =
        Map.of(
            Scope.Attr.logService.name(),
            new NoOpLogService(),
            Scope.Attr.ui.name(),
            new LoggerUIService(),
            GlobalConfiguration.VALIDATE_XML_CHANGELOG_FILES.getKey(),
            false);
    boolean whole = Scope.child(values, () -> run(database, connection, texts, taken));
    connection.setAutoCommit(true);
    if (!whole) {
      return 0;
    }
    ChangelogResult result =
        new ChangelogFixture(directory)
            .database(database.dialect())
            .xml(String.join("", taken))
            .read();
    String story = database + ", seed " + seed + ":\n" + String.join("", taken);
    assertThat(ChangelogFixture.reasons(result)).as(story).isEmpty();
    database.assertSame(result.schema(), connection, story);
    return taken.size();
  }

  /** Runs what can run; false where a change set fails half way. */
  private boolean run(
      RealDatabase database, Connection connection, List<String> texts, List<String> taken)
      throws Exception {
    Database target =
        DatabaseFactory.getInstance()
            .findCorrectDatabaseImplementation(new JdbcConnection(connection));
    ResourceAccessor accessor = RealSchema.accessor(directory);
    DatabaseChangeLog changelog =
        // A parser of its own: the common one validates if it was first asked for by another test.
        new XMLChangeLogSAXParser().parse("all.xml", new ChangeLogParameters(target), accessor);
    for (ChangeSet changeSet : changelog.getChangeSets()) {
      if (!DatabaseList.definitionMatches(changeSet.getDbmsSet(), target, true)) {
        continue;
      }
      List<String> before = keepsParts(database) ? state(database, connection) : List.of();
      try {
        changeSet.execute(changelog, target);
        taken.add(texts.get(Integer.parseInt(changeSet.getId())));
      } catch (LiquibaseException | RuntimeException e) {
        target.rollback();
        if (keepsParts(database) && !before.equals(state(database, connection))) {
          return false;
        }
      }
    }
    Scope.getCurrentScope().getSingleton(ExecutorService.class).clearExecutor("jdbc", target);
    return true;
  }

  /** True where what a change set did before it failed stays done. */
  private static boolean keepsParts(RealDatabase database) {
    return switch (database) {
      case H2, HSQLDB, MARIADB -> true;
      case POSTGRESQL, DERBY, SQLITE -> false;
    };
  }

  private static List<String> state(RealDatabase database, Connection connection) throws Exception {
    List<String> lines = new ArrayList<>(database.indexes(connection));
    lines.addAll(database.tables(connection));
    return lines;
  }
}
