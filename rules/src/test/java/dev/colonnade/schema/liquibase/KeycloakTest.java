package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

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

/**
 * The changelog of Keycloak 26.0.0 ({@code org.keycloak:keycloak-model-jpa}), read from its jar and
 * compared with what Liquibase's update makes of it on PostgreSQL 18. Custom changes are left out
 * on both sides: they only move data.
 */
class KeycloakTest {
  private static final String ROOT = "META-INF/jpa-changelog-master.xml";
  private static final Path JAR = Path.of("target/services/keycloak-model-jpa.jar");

  private static ChangelogResult read() {
    return ChangelogReader.read(
        new ChangelogInput(
            Dialects.postgresql(),
            Path.of("."),
            List.of(JAR),
            List.of(RootChangelog.of(ROOT)),
            Map.of()));
  }

  @Test
  void understands_everything_but_custom_changes() {
    ChangelogResult result = read();
    assertThat(ChangelogFixture.reasons(result))
        .hasSize(23)
        .allMatch(line -> line.contains(" custom change org.keycloak.connections.jpa.updater."));
  }

  @Test
  void knows_tables_and_indexes_with_their_places() {
    ChangelogResult result = read();
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

  @Test
  void equals_what_an_update_leaves_in_postgresql() throws Exception {
    ChangelogResult result = read();
    try (Connection connection = RealPostgres.newDatabase();
        RootsAccessor accessor = new RootsAccessor(Path.of("."), List.of(JAR))) {
      RealSchema.update(connection, accessor, new ReadSession(accessor), ROOT);
      assertThat(DerivedSchema.indexes(result.schema()))
          .hasSizeGreaterThan(190)
          .isEqualTo(RealIndexes.postgresql(connection));
      assertThat(DerivedSchema.tables(result.schema()))
          .isEqualTo(RealSchema.tables(connection, "public"));
    }
  }
}
