package dev.colonnade.schema.liquibase;

/** What the databases of {@link RandomSchemaTest} say in words of their own. */
final class RandomWords {
  private final RealDatabase database;

  private RandomWords(RealDatabase database) {
    this.database = database;
  }

  static RandomWords of(RealDatabase database) {
    return new RandomWords(database);
  }

  String renameTable(String from, String to) {
    return database == RealDatabase.DERBY
        ? "rename table " + from + " to " + to
        : "alter table " + from + " rename to " + to;
  }

  String renameColumn(String table, String from, String to) {
    return switch (database) {
      case DERBY -> "rename column " + table + "." + from + " to " + to;
      case HSQLDB, H2 -> "alter table " + table + " alter column " + from + " rename to " + to;
      default -> "alter table " + table + " rename column " + from + " to " + to;
    };
  }

  String renameIndex(String table, String from, String to) {
    return switch (database) {
      case DERBY -> "rename index " + from + " to " + to;
      case MARIADB -> "alter table " + table + " rename index " + from + " to " + to;
      default -> "alter index " + from + " rename to " + to;
    };
  }

  String dropIndex(String index, String table) {
    return "drop index " + index + (database == RealDatabase.MARIADB ? " on " + table : "");
  }

  /** Some databases have words for each kind. */
  String dropConstraint(String table, String name, int kind) {
    String start = "alter table " + table + " drop ";
    boolean kinds = database == RealDatabase.MARIADB || database == RealDatabase.DERBY;
    if (kinds && kind == 1) {
      return start + "foreign key " + name;
    }
    if (kinds && kind == 2) {
      return start + (database == RealDatabase.DERBY ? "unique " : "index ") + name;
    }
    return kind == 3 && database != RealDatabase.POSTGRESQL
        ? start + "primary key"
        : start + "constraint " + name;
  }

  String nullability(String table, String column, boolean nullable) {
    String start = "alter table " + table;
    return switch (database) {
      case MARIADB -> start + " modify " + column + " int" + (nullable ? "" : " not null");
      case HSQLDB ->
          start + " alter column " + column + " set" + (nullable ? " null" : " not null");
      case DERBY -> start + " alter column " + column + (nullable ? " null" : " not null");
      default ->
          start + " alter column " + column + (nullable ? " drop not null" : " set not null");
    };
  }

  /** Derby's keys want columns that cannot hold NULL when written at the column. */
  String key(String words) {
    return database == RealDatabase.DERBY ? " not null" + words : words;
  }

  /** H2 keeps the column of a statement whose foreign key it refuses. */
  String reference(String words) {
    return database == RealDatabase.H2 ? "" : words;
  }

  String indexEnd(int kind, String column) {
    boolean partial = database == RealDatabase.POSTGRESQL || database == RealDatabase.SQLITE;
    if (kind == 0 && partial) {
      return " where " + column + " is not null";
    }
    return kind == 1 && database == RealDatabase.POSTGRESQL ? " include (" + column + ")" : "";
  }
}
