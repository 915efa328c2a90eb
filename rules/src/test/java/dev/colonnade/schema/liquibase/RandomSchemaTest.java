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
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
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
    Collection<String> lines(Connection connection) throws SQLException;
  }

  @Test
  void equals_h2() throws Exception {
    for (int i = 0; i < 200; i++) {
      try (Connection connection = DriverManager.getConnection("jdbc:h2:mem:")) {
        // Adding or dropping a column makes H2 copy the table, and a copy may lack repeated
        // indexes.
        RandomStatements statements = new RandomStatements(SEED + i, true, false);
        check(Dialects.h2(), connection, SEED + i, statements::next, "PUBLIC", RealIndexes::h2);
      }
    }
  }

  @Test
  void equals_hsqldb() throws Exception {
    for (int i = 0; i < 100; i++) {
      try (Connection connection = DriverManager.getConnection("jdbc:hsqldb:mem:harbour" + i);
          Statement statement = connection.createStatement()) {
        RandomStatements statements = new RandomStatements(SEED + i, true, true);
        check(
            Dialects.hsqldb(),
            connection,
            SEED + i,
            () ->
                statements
                    .next()
                    .replaceFirst("rename column (\\w+) to", "alter column $1 rename to"),
            "PUBLIC",
            open -> RealIndexes.metadata(open, "PUBLIC"));
        statement.execute("shutdown");
      }
    }
  }

  @Test
  void equals_derby() throws Exception {
    for (int i = 0; i < 20; i++) {
      try (Connection connection =
          DriverManager.getConnection("jdbc:derby:memory:harbour" + i + ";create=true")) {
        RandomStatements statements = new RandomStatements(SEED + i, true, true);
        check(
            Dialects.derby(),
            connection,
            SEED + i,
            () -> derby(statements.next()),
            "APP",
            open -> RealIndexes.metadata(open, "APP"));
      }
    }
  }

  /** Derby's words for renaming; its keys want columns that cannot hold NULL. */
  private static String derby(String sql) {
    return sql.replaceFirst("alter table (\\w+) rename to", "rename table $1 to")
        .replaceFirst("alter table (\\w+) rename column (\\w+) to", "rename column $1.$2 to")
        .replaceFirst("alter index (\\w+) rename to", "rename index $1 to")
        .replace(" int unique", " int not null unique")
        .replace(" int primary", " int not null primary");
  }

  @Test
  void equals_sqlite() throws Exception {
    for (int i = 0; i < 200; i++) {
      try (Connection connection = DriverManager.getConnection("jdbc:sqlite::memory:")) {
        RandomStatements statements = new RandomStatements(SEED + i, false, true);
        check(Dialects.sqlite(), connection, SEED + i, statements::next, null, RealIndexes::sqlite);
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
            statements::next,
            "public",
            RealIndexes::postgresql);
      }
    }
  }

  private static void check(
      Dialect dialect,
      Connection connection,
      long seed,
      Supplier<String> statements,
      String schema,
      Catalog indexes)
      throws SQLException {
    DdlReader reader = new DdlReader(dialect);
    SchemaFold fold = new SchemaFold(dialect);
    List<String> taken = new ArrayList<>();
    List<NotUnderstood> notUnderstood = new ArrayList<>();
    try (Statement statement = connection.createStatement()) {
      for (int i = 0; i < STATEMENTS; i++) {
        String sql = statements.get();
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
    assertThat(withoutGeneratedNames(DerivedSchema.indexes(fold.schema(), dialect)))
        .as(story)
        .isEqualTo(withoutGeneratedNames(indexes.lines(connection)));
    assertThat(DerivedSchema.keys(fold.schema()))
        .as(story)
        .isEqualTo(RealSchema.keys(connection, schema));
  }

  private static List<String> withoutGeneratedNames(Collection<String> lines) {
    return lines.stream().map(RealIndexes::withoutGeneratedName).sorted().toList();
  }
}
