package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.nio.file.Path;
import java.sql.Connection;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * The changelog of Keycloak 26.0.0 ({@code org.keycloak:keycloak-model-jpa}), read from its jar and
 * compared with what Liquibase's update makes of it on real databases. Custom changes are left out
 * on both sides: they only move data.
 */
class KeycloakTest {
  private static final String ROOT = "META-INF/jpa-changelog-master.xml";
  private static final Path JAR = Path.of("target/services/keycloak-model-jpa.jar");

  private static final String CUSTOM = " custom change org.keycloak.connections.jpa.updater.";

  private static ChangelogResult read(Dialect dialect) {
    return ChangelogReader.read(
        new ChangelogInput(
            dialect, Path.of("."), List.of(JAR), List.of(RootChangelog.of(ROOT)), Map.of()));
  }

  @Test
  void understands_everything_but_custom_changes() {
    ChangelogResult result = read(Dialects.postgresql());
    assertThat(ChangelogFixture.reasons(result))
        .hasSize(23)
        .allMatch(line -> line.contains(CUSTOM));
  }

  @Test
  void knows_tables_and_indexes_with_their_places() {
    ChangelogResult result = read(Dialects.postgresql());
    assertThat(result.schema().tables()).hasSize(85);
    Table table = result.schema().table(Identifier.of("user_attribute")).orElseThrow();
    assertThat(table.indexes())
        .extracting(Index::render)
        .contains("IDX_USER_ATTRIBUTE(USER_ID)", "IDX_USER_ATTRIBUTE_NAME(NAME, VALUE)");
    Index index = table.index(Identifier.of("IDX_USER_ATTRIBUTE")).orElseThrow();
    assertThat(index.location())
        .hasToString("keycloak-model-jpa.jar!/META-INF/jpa-changelog-1.9.2.xml:45");
    assertThat(index.location().changeSet()).isPresent();
  }

  /**
   * The update itself fails on the others: Liquibase refuses 578 of its changes on SQLite, HSQLDB
   * reads no constraint name with a hyphen unquoted, and Derby takes no primary key on the columns
   * of a unique constraint.
   */
  @ParameterizedTest
  @EnumSource(names = {"POSTGRESQL", "H2", "MARIADB"})
  void equals_what_an_update_leaves(RealDatabase database) throws Exception {
    ChangelogResult result = read(database.dialect());
    assertThat(ChangelogFixture.reasons(result)).allMatch(line -> line.contains(CUSTOM));
    try (Connection connection = database.open();
        RootsAccessor accessor = new RootsAccessor(Path.of("."), List.of(JAR))) {
      RealSchema.update(connection, accessor, new ReadSession(accessor), ROOT);
      database.assertSame(result.schema(), connection, database.toString());
      assertThat(database.indexes(connection)).hasSizeGreaterThan(180);
    }
  }
}
