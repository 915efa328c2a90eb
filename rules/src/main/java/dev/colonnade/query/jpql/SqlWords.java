package dev.colonnade.query.jpql;

import java.util.List;
import java.util.Optional;

/** What databases write differently. */
final class SqlWords {
  private final String database;

  SqlWords(String database) {
    this.database = database;
  }

  /** A truth value. Oracle before 23 and SQL Server have none: numbers stand for them. */
  String truth(boolean value) {
    return switch (database) {
      case "oracle", "mssql" -> value ? "1" : "0";
      default -> value ? "true" : "false";
    };
  }

  String concat(List<String> parts) {
    return switch (database) {
      case "mysql", "mariadb", "mssql" -> "concat(" + String.join(", ", parts) + ")";
      default -> "(" + String.join(" || ", parts) + ")";
    };
  }

  String length(String text) {
    return switch (database) {
      case "mssql" -> "len(" + text + ")";
      case "mysql", "mariadb" -> "char_length(" + text + ")";
      default -> "length(" + text + ")";
    };
  }

  String locate(String part, String text, Optional<String> start) {
    return switch (database) {
      case "postgresql" ->
          start.isEmpty()
              ? "position(" + part + " in " + text + ")"
              : "strpos(substring(" + text + ", " + start.get() + "), " + part + ")";
      case "oracle", "sqlite" ->
          "instr(" + text + ", " + part + start.map(it -> ", " + it).orElse("") + ")";
      case "mssql" ->
          "charindex(" + part + ", " + text + start.map(it -> ", " + it).orElse("") + ")";
      default -> "locate(" + part + ", " + text + start.map(it -> ", " + it).orElse("") + ")";
    };
  }

  String substring(String text, String start, Optional<String> length) {
    String function =
        switch (database) {
          case "oracle", "sqlite", "db2", "derby" -> "substr";
          default -> "substring";
        };
    return function + "(" + text + ", " + start + length.map(it -> ", " + it).orElse("") + ")";
  }

  String mod(String left, String right) {
    return switch (database) {
      case "mssql", "sqlite" -> "(" + left + " % " + right + ")";
      default -> "mod(" + left + ", " + right + ")";
    };
  }

  /**
   * The moment of the statement; without time zone where the database tells both apart, as
   * Hibernate's dialects write it.
   */
  String now(String standard) {
    return switch (database) {
      case "postgresql", "h2" -> standard.replace("current_time", "localtime");
      case "oracle" -> standard.replace("current_timestamp", "localtimestamp");
      case "mssql" ->
          switch (standard) {
            case "current_date" -> "cast(sysdatetime() as date)";
            case "current_time" -> "cast(sysdatetime() as time)";
            default -> "sysdatetime()";
          };
      default -> standard;
    };
  }

  /** A field of a moment. */
  String extract(String field, String moment) {
    return switch (database) {
      case "mssql" -> "datepart(" + field + ", " + moment + ")";
      case "sqlite" -> "strftime('%" + sqliteField(field) + "', " + moment + ")";
      default -> "extract(" + field + " from " + moment + ")";
    };
  }

  private static String sqliteField(String field) {
    return switch (field) {
      case "year" -> "Y";
      case "month" -> "m";
      case "day" -> "d";
      case "hour" -> "H";
      case "minute" -> "M";
      default -> "S";
    };
  }

  /** A literal of a date, a time or both. */
  String moment(String kind, String quoted) {
    return switch (database) {
      case "mssql", "sqlite", "derby" -> quoted;
      default -> kind + " " + quoted;
    };
  }

  /** The type of a CAST by its name in JPQL. */
  String type(String name, String length) {
    String lower = name.toLowerCase(java.util.Locale.ROOT);
    return switch (lower.substring(lower.lastIndexOf('.') + 1)) {
      case "string" -> length.isEmpty() ? text() : "varchar" + length;
      case "integer", "int", "short", "byte" -> integer("integer", "signed");
      case "long" -> integer("bigint", "signed");
      case "double", "float" ->
          switch (database) {
            case "mysql", "mariadb" -> "double";
            case "oracle" -> "binary_double";
            case "mssql" -> "float";
            default -> "double precision";
          };
      case "bigdecimal", "biginteger" -> length.isEmpty() ? "decimal(38, 2)" : "decimal" + length;
      case "localdate" -> "date";
      case "localtime" -> "time";
      case "instant", "localdatetime", "offsetdatetime", "zoneddatetime" ->
          database.equals("mysql") || database.equals("mariadb") ? "datetime" : "timestamp";
      default -> name + length;
    };
  }

  private String text() {
    return switch (database) {
      case "mysql", "mariadb" -> "char";
      case "oracle" -> "varchar2(4000)";
      case "mssql" -> "varchar(max)";
      case "postgresql", "h2" -> "varchar";
      default -> "varchar(255)";
    };
  }

  private String integer(String standard, String mysql) {
    return database.equals("mysql") || database.equals("mariadb") ? mysql : standard;
  }

  /** {@code ilike}; where the database has none, both sides are lowered. */
  boolean hasIlike() {
    return database.equals("postgresql") || database.equals("h2");
  }

  /** The rows of a query that are given out, as the last clause. */
  String limit(Optional<String> limit, Optional<String> offset, boolean ordered) {
    if (limit.isEmpty() && offset.isEmpty()) {
      return "";
    }
    return switch (database) {
      case "postgresql", "h2", "hsqldb", "mysql", "mariadb", "sqlite" ->
          limit.map(it -> " limit " + it).orElse(unlimited())
              + offset.map(it -> " offset " + it).orElse("");
      case "mssql" ->
          (ordered ? "" : " order by (select 0)")
              + " offset "
              + offset.orElse("0")
              + " rows"
              + limit.map(it -> " fetch next " + it + " rows only").orElse("");
      default ->
          offset.map(it -> " offset " + it + " rows").orElse("")
              + limit.map(it -> " fetch first " + it + " rows only").orElse("");
    };
  }

  private String unlimited() {
    return switch (database) {
      case "mysql", "mariadb" -> " limit 18446744073709551615";
      case "sqlite" -> " limit -1";
      default -> "";
    };
  }

  /** The word for common table expressions that read themselves. */
  String recursive() {
    return switch (database) {
      case "oracle", "mssql", "db2" -> "";
      default -> "recursive ";
    };
  }

  /** The database calls the difference of two sets so. */
  String except() {
    return database.equals("oracle") ? "minus" : "except";
  }
}
