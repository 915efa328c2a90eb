package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.nio.file.Path;
import java.sql.Connection;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * One change set for each form of a precondition, each making a table: Liquibase's own update on
 * six databases decides which of them are there, and ours must be the same.
 */
class PreconditionsTest {
  private static final Path DIRECTORY = Path.of("src/test/resources/changelogs");
  private static final String FILE = "preconditions.xml";

  @ParameterizedTest
  @EnumSource
  void decides_as_an_update_does(RealDatabase database) throws Exception {
    ChangelogResult result =
        ChangelogReader.read(
            new ChangelogInput(
                database.dialect(),
                DIRECTORY,
                List.of(DIRECTORY),
                List.of(RootChangelog.of(FILE)),
                Map.of()));
    assertThat(ChangelogFixture.reasons(result))
        .as("only what columns a view has is unknown")
        .singleElement()
        .asString()
        .contains("a precondition cannot be decided here; taken to hold");
    try (Connection connection = database.open()) {
      RealSchema.update(connection, RealSchema.accessor(DIRECTORY), null, FILE);
      database.assertSame(result.schema(), connection, database.toString());
    }
  }
}
