package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.change.SchemaFold;
import dev.colonnade.schema.sql.DdlReader;
import dev.colonnade.schema.sql.DdlResult;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/**
 * Random statements on real databases: what a database takes is folded as well, and after each
 * sequence tables, keys and indexes must be the same. A failure shows the seed and the statements.
 */
class RandomSchemaTest {
  private static final long SEED = 20260101L;
  private static final int STATEMENTS = 25;

  /** Reads the lines of a real database. */
  private interface Catalog {
    SortedSet<String> lines(Connection connection) throws SQLException;
  }

  @Test
  void equals_h2() throws Exception {
    for (int i = 0; i < 200; i++) {
      try (Connection connection = DriverManager.getConnection("jdbc:h2:mem:")) {
        // Adding or dropping a column makes H2 copy the table, and a copy may lack repeated
        // indexes.
        RandomStatements statements = new RandomStatements(SEED + i, true, false);
        check(Dialects.h2(), connection, SEED + i, statements, "PUBLIC", RealIndexes::h2);
      }
    }
  }

  @Test
  void equals_sqlite() throws Exception {
    for (int i = 0; i < 200; i++) {
      try (Connection connection = DriverManager.getConnection("jdbc:sqlite::memory:")) {
        RandomStatements statements = new RandomStatements(SEED + i, false, true);
        check(Dialects.sqlite(), connection, SEED + i, statements, null, RealIndexes::sqlite);
      }
    }
  }

  @Test
  void equals_postgresql() throws Exception {
    try (Connection connection = RealPostgres.newDatabase();
        Statement statement = connection.createStatement()) {
      for (int i = 0; i < 60; i++) {
        statement.execute("drop schema public cascade");
        statement.execute("create schema public");
        RandomStatements statements = new RandomStatements(SEED + i, true, true);
        check(
            Dialects.postgresql(),
            connection,
            SEED + i,
            statements,
            "public",
            RealIndexes::postgresql);
      }
    }
  }

  private static void check(
      Dialect dialect,
      Connection connection,
      long seed,
      RandomStatements statements,
      String schema,
      Catalog indexes)
      throws SQLException {
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
    assertThat(withoutHashes(DerivedSchema.indexes(fold.schema())))
        .as(story)
        .isEqualTo(withoutHashes(indexes.lines(connection)));
    assertThat(DerivedSchema.keys(fold.schema()))
        .as(story)
        .isEqualTo(RealSchema.keys(connection, schema));
  }

  private static SortedSet<String> withoutHashes(SortedSet<String> lines) {
    SortedSet<String> without = new TreeSet<>();
    lines.forEach(line -> without.add(RealIndexes.withoutHash(line)));
    return without;
  }
}
