package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.nio.file.Path;
import java.sql.Connection;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The demo's changelog, compared with what Liquibase's update makes of it on real databases. */
class HarbourSchemaTest {
  private static final Path DIRECTORY = Path.of("../it/harbour/src/main/resources");

  @Test
  void equals_what_an_update_leaves_in_postgresql() throws Exception {
    check(RealDatabase.POSTGRESQL, Map.of(), "db/changelog/harbour.xml");
  }

  /**
   * Without the file in PostgreSQL's own words, and with types that the root gives for two only;
   * Liquibase adds no keys on SQLite.
   */
  @ParameterizedTest
  @EnumSource(mode = EnumSource.Mode.EXCLUDE, names = "SQLITE")
  void equals_what_an_update_of_tables_and_indexes_leaves(RealDatabase database) throws Exception {
    check(
        database,
        Map.of("money", "numeric(12,2)", "moment", "timestamp"),
        "db/changelog/tables.xml",
        "db/changelog/indexes.xml");
  }

  private static void check(
      RealDatabase database, Map<String, String> parameters, String... changelogs)
      throws Exception {
    ChangelogResult result =
        ChangelogReader.read(
            new ChangelogInput(
                database.dialect(),
                DIRECTORY,
                List.of(DIRECTORY),
                Stream.of(changelogs).map(RootChangelog::of).toList(),
                parameters));
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    try (Connection connection = database.open()) {
      RealSchema.update(
          connection, RealSchema.accessor(DIRECTORY), null, parameters, List.of(changelogs));
      database.assertSame(result.schema(), connection, database.toString());
    }
  }
}
