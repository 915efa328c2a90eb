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

  /**
   * Whether a statement is another database's by its name: it ends in names of databases, none of
   * them ours, and without them it is the name of a statement beside it. MyBatis knows no such
   * names; services that choose a statement in their own code have them (common practice).
   */
  static boolean isOfAnother(String id, Set<String> ids, Set<String> ours) {
    int end = id.length();
    boolean named = false;
    while (true) {
      int start = id.lastIndexOf('_', end - 1);
      if (start <= 0) {
        return false;
      }
      String word = id.substring(start + 1, end).toLowerCase(Locale.ROOT);
      if (ours.contains(word) || !(isKnown(word) || (named && word.equals("or")))) {
        return false;
      }
      named = true;
      end = start;
      if (ids.contains(id.substring(0, end))) {
        return true;
      }
    }
  }
}
