package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

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

  @Test
  void equals_what_an_update_leaves_in_postgresql() throws Exception {
    ChangelogResult result = read(Dialects.postgresql());
    try (Connection connection = RealPostgres.newDatabase();
        RootsAccessor accessor = new RootsAccessor(Path.of("."), List.of(JAR))) {
      RealSchema.update(connection, accessor, null, ROOT);
      assertThat(DerivedSchema.indexes(result.schema()))
          .hasSizeGreaterThan(150)
          .isEqualTo(RealIndexes.postgresql(connection));
      assertThat(DerivedSchema.tables(result.schema()))
          .isEqualTo(RealSchema.tables(connection, "public"));
    }
  }

  @Test
  void equals_what_an_update_leaves_in_h2() throws Exception {
    ChangelogResult result = read(Dialects.h2());
    try (Connection connection = DriverManager.getConnection("jdbc:h2:mem:");
        RootsAccessor accessor = new RootsAccessor(Path.of("."), List.of(JAR))) {
      RealSchema.update(connection, accessor, null, ROOT);
      assertThat(
              DerivedSchema.indexes(result.schema()).stream()
                  .map(RealIndexes::withoutHash)
                  .sorted()
                  .toList())
          .isEqualTo(
              RealIndexes.h2(connection).stream().map(RealIndexes::withoutHash).sorted().toList());
    }
  }
}
