package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.change.SchemaFold;
import dev.colonnade.schema.sql.DdlReader;
import dev.colonnade.schema.sql.DdlResult;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Random statements on real databases: what a database takes is folded as well, and after each
 * sequence tables, columns with nullability, keys and indexes must be the same. 500 sequences in a
 * plain run; {@code -Dcolonnade.schema.sequences=5000} asks for more and {@code
 * -Dcolonnade.schema.seed=7} for others. A failure shows the seed and the statements.
 */
class RandomSchemaTest {
  private static final long SEED = Long.getLong("colonnade.schema.seed", 20260101L);
  private static final int SEQUENCES = Integer.getInteger("colonnade.schema.sequences", 500);
  private static final int STATEMENTS = 70;

  /** The databases with their shares in a run, in percent. */
  @ParameterizedTest
  @CsvSource({"H2, 32", "SQLITE, 32", "HSQLDB, 16", "POSTGRESQL, 10", "MARIADB, 6", "DERBY, 4"})
  void random_statements_lead_to_the_same_schema(RealDatabase database, int share)
      throws Exception {
    int sequences = Math.max(1, SEQUENCES * share / 100);
    System.out.println(database + ": " + sequences + " random sequences from seed " + SEED + " on");
    int statements = 0;
    for (int i = 0; i < sequences; i++) {
      try (Connection connection = database.open()) {
        statements += check(database, connection, SEED + i);
      }
    }
    assertThat(statements).as("statements that the database took").isGreaterThan(8 * sequences);
  }

  /** Returns how many statements the database took. */
  static int check(RealDatabase database, Connection connection, long seed) throws SQLException {
    Dialect dialect = database.dialect();
    RandomStatements statements =
        new RandomStatements(seed, database != RealDatabase.SQLITE, RandomWords.of(database));
    DdlReader reader = new DdlReader(dialect);
    SchemaFold fold = new SchemaFold(dialect);
    List<String> taken = new ArrayList<>();
    List<NotUnderstood> notUnderstood = new ArrayList<>();
    try (Statement statement = connection.createStatement()) {
      for (int i = 0; i < STATEMENTS; i++) {
        String sql = statements.next();
        try {
          statement.execute(sql);
        } catch (SQLException e) {
          continue;
        }
        taken.add(sql);
        DdlResult result = reader.read(sql, Optional.empty(), at -> SourceLocation.of("random"));
        notUnderstood.addAll(result.notUnderstood());
        fold.applyAll(result.changes());
      }
    }
    notUnderstood.addAll(fold.notUnderstood());
    String story = dialect + ", seed " + seed + ":\n" + String.join(";\n", taken);
    assertThat(notUnderstood).as(story).isEmpty();
    database.assertSame(fold.schema(), connection, story);
    return taken.size();
  }
}
