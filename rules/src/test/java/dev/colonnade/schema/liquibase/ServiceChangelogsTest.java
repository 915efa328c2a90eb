package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.nio.file.Path;
import java.sql.Connection;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Whole changelogs as services of different houses write them, put through Liquibase's own update
 * on real databases: nothing may be missing, nothing invented, and nothing left unread.
 *
 * <p>{@code quay}: XML from a generator, properties by database, sample rows. {@code pilotage}:
 * releases in XML with preconditions, renames, modified SQL and quoted names. {@code moorings}: a
 * dump of PostgreSQL, then formatted SQL. {@code invoices}: a dump of MySQL, formatted SQL and
 * JSON. {@code tides}: YAML with everything that YAML can hold, and files of other formats. {@code
 * tugs}: plain and formatted SQL of the small databases.
 */
class ServiceChangelogsTest {
  private static final Path DIRECTORY = Path.of("src/test/resources/changelogs");

  @ParameterizedTest
  @CsvSource({
    "H2, quay/master.xml",
    "POSTGRESQL, quay/master.xml",
    "MARIADB, quay/master.xml",
    "HSQLDB, quay/master.xml",
    "DERBY, quay/master.xml",
    "H2, pilotage/db.changelog-master.xml",
    "POSTGRESQL, pilotage/db.changelog-master.xml",
    "MARIADB, pilotage/db.changelog-master.xml",
    "POSTGRESQL, moorings/changelog.yaml",
    "H2, formatted-everything.sql",
    "POSTGRESQL, formatted-everything.sql",
    "MARIADB, invoices/root.json",
    "H2, tides/db.changelog-master.yaml",
    "POSTGRESQL, tides/db.changelog-master.yaml",
    "MARIADB, tides/db.changelog-master.yaml",
    "DERBY, tides/db.changelog-master.yaml",
    "H2, tugs/h2.xml",
    "HSQLDB, tugs/hsqldb.xml",
    "SQLITE, tugs/sqlite.xml",
    "DERBY, tugs/derby.xml"
  })
  void equals_what_an_update_leaves(RealDatabase database, String file) throws Exception {
    ChangelogResult result =
        ChangelogReader.read(
            new ChangelogInput(
                database.dialect(),
                DIRECTORY,
                List.of(DIRECTORY),
                List.of(RootChangelog.of(file)),
                Map.of()));
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    try (Connection connection = database.open()) {
      RealSchema.update(connection, RealSchema.accessor(DIRECTORY), null, file);
      database.assertSame(result.schema(), connection, database + " " + file);
    }
  }
}
