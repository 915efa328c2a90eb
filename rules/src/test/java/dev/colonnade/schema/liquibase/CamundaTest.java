package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.nio.file.Path;
import java.sql.Connection;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * The changelog of Camunda 7.21.0 ({@code org.camunda.bpm:camunda-engine}): plain SQL files with
 * the database's name in their path, a baseline and upgrades; compared with what Liquibase's update
 * makes of it.
 */
class CamundaTest {
  private static final String ROOT = "org/camunda/bpm/engine/db/liquibase/camunda-changelog.xml";
  private static final Path JAR = Path.of("target/services/camunda-engine.jar");

  private static ChangelogResult read(Dialect dialect) {
    ChangelogResult result =
        ChangelogReader.read(
            new ChangelogInput(
                dialect, Path.of("."), List.of(JAR), List.of(RootChangelog.of(ROOT)), Map.of()));
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    return result;
  }

  /** It has files for these three of the databases. */
  @ParameterizedTest
  @EnumSource(names = {"POSTGRESQL", "H2", "MARIADB"})
  void equals_what_an_update_leaves(RealDatabase database) throws Exception {
    ChangelogResult result = read(database.dialect());
    try (Connection connection = database.open();
        RootsAccessor accessor = new RootsAccessor(Path.of("."), List.of(JAR))) {
      RealSchema.update(connection, accessor, null, ROOT);
      database.assertSame(result.schema(), connection, database.toString());
      assertThat(database.indexes(connection)).hasSizeGreaterThan(150);
    }
  }
}
