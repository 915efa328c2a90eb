package dev.colonnade.schema.liquibase;

import java.util.Map;
import liquibase.database.Database;
import liquibase.database.DatabaseFactory;
import liquibase.database.OfflineConnection;

/** Liquibase's description of a database, without a connection. */
final class OfflineDatabase {
  /**
   * The versions whose SQL is asked for, by short name. Liquibase's SQL depends on the version in
   * details such as identity columns.
   */
  private static final Map<String, String> VERSIONS =
      Map.of(
          "postgresql", "18.0",
          "mysql", "8.4",
          "mariadb", "11.4",
          "oracle", "19.0",
          "mssql", "16.0",
          "db2", "11.5",
          "sqlite", "3.54",
          "h2", "2.4",
          "hsqldb", "2.7",
          "derby", "10.16");

  private OfflineDatabase() {}

  static Database of(String shortName) {
    Database database = DatabaseFactory.getInstance().getDatabase(shortName);
    if (database == null) {
      throw new IllegalArgumentException("unknown database " + shortName);
    }
    database.setConnection(
        new UnrecordedConnection(
            "offline:" + shortName + "?version=" + VERSIONS.getOrDefault(shortName, "1.0")));
    return database;
  }

  /** Attaches without registering a history of change sets, which would be kept in a file. */
  private static final class UnrecordedConnection extends OfflineConnection {
    UnrecordedConnection(String url) {
      super(url, null);
    }

    @Override
    public void attached(Database database) {}
  }
}
