package dev.colonnade.query.mapper;

import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * The names by which services call their database in {@code databaseId}. MyBatis leaves them to the
 * service; these are common practice.
 */
final class DatabaseIds {
  private static final Map<String, Set<String>> NAMES =
      Map.of(
          "postgresql", Set.of("postgresql", "postgres", "pgsql", "pg"),
          "mysql", Set.of("mysql"),
          "mariadb", Set.of("mariadb", "mysql"),
          "oracle", Set.of("oracle"),
          "mssql", Set.of("mssql", "sqlserver", "sql_server", "microsoft sql server"),
          "db2", Set.of("db2"),
          "sqlite", Set.of("sqlite"),
          "h2", Set.of("h2"),
          "hsqldb", Set.of("hsqldb", "hsql"),
          "derby", Set.of("derby"));

  private DatabaseIds() {}

  /** The names of a database, by its Liquibase short name. */
  static Set<String> of(String database) {
    return NAMES.getOrDefault(database, Set.of(database));
  }

  /** Whether some supported database is called so. */
  static boolean isKnown(String databaseId) {
    String name = databaseId.toLowerCase(Locale.ROOT);
    return NAMES.values().stream().anyMatch(names -> names.contains(name));
  }
}
