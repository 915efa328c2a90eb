package dev.colonnade.query.mapper;

import java.util.List;
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
   * Whether a statement is for other databases by the names in its mapper: its own ends in names of
   * databases, none of them ours, and without them it is the name of a statement beside it; or it
   * is such a statement, and the one for ours stands beside it. MyBatis knows no such names;
   * services that choose a statement in their own code have them (common practice).
   */
  static boolean isOfOthers(String id, Set<String> ids, Set<String> ours) {
    return ids.stream().anyMatch(other -> differ(other, id, ours, /* wanted= */ false))
        || ids.stream().anyMatch(other -> differ(id, other, ours, /* wanted= */ true));
  }

  /** Whether a name is the plain one and names of databases, ours among them as wanted. */
  private static boolean differ(String plain, String name, Set<String> ours, boolean wanted) {
    if (!name.startsWith(plain + "_")) {
      return false;
    }
    List<String> words =
        List.of(name.substring(plain.length() + 1).toLowerCase(Locale.ROOT).split("_or_"));
    return words.stream().allMatch(DatabaseIds::isKnown)
        && words.stream().anyMatch(ours::contains) == wanted;
  }
}
