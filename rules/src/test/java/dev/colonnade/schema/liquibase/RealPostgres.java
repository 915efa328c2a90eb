package dev.colonnade.schema.liquibase;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;

/** One PostgreSQL server for all tests of a run, with a new database for each test. */
final class RealPostgres {
  private static EmbeddedPostgres server;
  private static int databases;

  private RealPostgres() {}

  static synchronized Connection newDatabase() throws SQLException {
    if (server == null) {
      try {
        server = EmbeddedPostgres.start();
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
      Runtime.getRuntime().addShutdownHook(new Thread(RealPostgres::stop));
    }
    String name = "harbour" + databases++;
    try (Connection connection = server.getPostgresDatabase().getConnection();
        Statement statement = connection.createStatement()) {
      statement.execute("create database " + name);
    }
    return DriverManager.getConnection(server.getJdbcUrl("postgres", name));
  }

  private static void stop() {
    try {
      server.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
