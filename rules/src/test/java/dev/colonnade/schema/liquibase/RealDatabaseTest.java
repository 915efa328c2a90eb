package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.util.List;
import java.util.Map;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Runs Liquibase's own update on real databases (PostgreSQL 18, H2, SQLite) and compares tables,
 * keys and indexes with those derived from the changelog. Nothing may be missing and nothing
 * invented.
 */
class RealDatabaseTest {
  private static final Path DIRECTORY = Path.of("src/test/resources/changelogs");

  /** Kept as a table, as it has indexes; JDBC lists it under another kind. */
  private static final String MATERIALIZED_VIEW = "busy.";

  @TempDir Path directory;

  private static ChangelogResult read(Dialect dialect, Path root, String file) {
    ChangelogResult result =
        ChangelogReader.read(
            new ChangelogInput(
                dialect, root, List.of(root), List.of(RootChangelog.of(file)), Map.of()));
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    return result;
  }

  @ParameterizedTest
  @ValueSource(strings = {"every-change.xml", "postgresql.sql"})
  void equals_postgresql(String file) throws Exception {
    ChangelogResult result = read(Dialects.postgresql(), DIRECTORY, file);
    try (Connection connection = RealPostgres.newDatabase()) {
      RealSchema.update(connection, RealSchema.accessor(DIRECTORY), null, file);
      assertThat(DerivedSchema.indexes(result.schema()))
          .isEqualTo(RealIndexes.postgresql(connection));
      SortedSet<String> tables = DerivedSchema.tables(result.schema());
      tables.removeIf(line -> line.startsWith(MATERIALIZED_VIEW));
      assertThat(tables).isEqualTo(RealSchema.tables(connection, "public"));
    }
  }

  static Stream<Dialect> dialects() {
    return Dialects.all().stream();
  }

  /** SQL Server alone refuses to drop a column that an index has. */
  @ParameterizedTest
  @MethodSource("dialects")
  void understands_every_change_for_every_database(Dialect dialect) {
    ChangelogResult result =
        ChangelogReader.read(
            new ChangelogInput(
                dialect,
                DIRECTORY,
                List.of(DIRECTORY),
                List.of(RootChangelog.of("every-change.xml")),
                Map.of()));
    assertThat(ChangelogFixture.reasons(result))
        .allMatch(line -> line.matches("every-change.xml:1(35|46) drop column: index vessel_.*"))
        .hasSize(dialect.shortName().equals("mssql") ? 2 : 0);
    assertThat(result.schema().tables()).hasSize(10);
  }

  @ParameterizedTest
  @ValueSource(strings = {"every-change.xml", "h2.sql"})
  void equals_h2(String file) throws Exception {
    equalsH2(DIRECTORY, file);
  }

  @ParameterizedTest
  @ValueSource(strings = {"yaml", "json"})
  void equals_h2_in_other_formats(String format) throws Exception {
    Path xml = DIRECTORY.resolve("every-change.xml");
    String text = format.equals("yaml") ? ChangelogFormats.yaml(xml) : ChangelogFormats.json(xml);
    Files.writeString(directory.resolve("every-change." + format), text);
    equalsH2(directory, "every-change." + format);
  }

  private static void equalsH2(Path root, String file) throws Exception {
    ChangelogResult result = read(Dialects.h2(), root, file);
    try (Connection connection = DriverManager.getConnection("jdbc:h2:mem:")) {
      RealSchema.update(connection, RealSchema.accessor(root), null, file);
      assertThat(withoutHashes(DerivedSchema.indexes(result.schema())))
          .isEqualTo(withoutHashes(RealIndexes.h2(connection)));
      assertThat(DerivedSchema.tables(result.schema()))
          .isEqualTo(RealSchema.tables(connection, "PUBLIC"));
    }
  }

  private static SortedSet<String> withoutHashes(SortedSet<String> lines) {
    SortedSet<String> without = new TreeSet<>();
    lines.forEach(line -> without.add(RealIndexes.withoutHash(line)));
    return without;
  }

  @Test
  void equals_sqlite() throws Exception {
    ChangelogResult result = read(Dialects.sqlite(), DIRECTORY, "sqlite.sql");
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite::memory:")) {
      RealSchema.update(connection, RealSchema.accessor(DIRECTORY), null, "sqlite.sql");
      assertThat(DerivedSchema.indexes(result.schema())).isEqualTo(RealIndexes.sqlite(connection));
      // The catalog says that a row number may be NULL; it cannot.
      assertThat(DerivedSchema.tables(result.schema()))
          .contains("vessel.id not null")
          .containsAll(
              RealSchema.tables(connection, null).stream()
                  .filter(line -> !line.equals("vessel.id"))
                  .toList())
          .hasSameSizeAs(RealSchema.tables(connection, null));
    }
  }
}
