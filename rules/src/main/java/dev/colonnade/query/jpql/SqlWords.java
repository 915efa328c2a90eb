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
      case "sqlite" ->
          "instr("
              + start.map(it -> "substr(" + text + ", " + it + ")").orElse(text)
              + ", "
              + part
              + ")";
      case "oracle" -> "instr(" + text + ", " + part + start.map(it -> ", " + it).orElse("") + ")";
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
      case "derby" -> field + "(" + moment + ")";
      case "sqlite" -> "strftime('%" + sqliteField(field) + "', " + moment + ")";
      default -> "extract(" + field + " from " + moment + ")";
    };
  }

  /** The number of a day in its week, from Sunday as 1, or in its year. */
  String dayOf(String unit, String moment) {
    return switch (database) {
      case "postgresql" ->
          unit.equals("week")
              ? "(extract(dow from " + moment + ") + 1)"
              : "extract(doy from " + moment + ")";
      case "mssql" ->
          "datepart(" + (unit.equals("week") ? "weekday" : "dayofyear") + ", " + moment + ")";
      case "oracle" ->
          "to_number(to_char(" + moment + ", '" + (unit.equals("week") ? "D" : "DDD") + "'))";
      case "sqlite" ->
          unit.equals("week")
              ? "(strftime('%w', " + moment + ") + 1)"
              : "strftime('%j', " + moment + ")";
      case "hsqldb" ->
          "extract("
              + (unit.equals("week") ? "day_of_week" : "day_of_year")
              + " from "
              + moment
              + ")";
      default -> (unit.equals("week") ? "dayofweek(" : "dayofyear(") + moment + ")";
    };
  }

  /** The first or last characters of a text. */
  String side(String side, String text, String length) {
    return switch (database) {
      case "oracle", "sqlite", "derby" ->
          side.equals("left")
              ? substring(text, "1", Optional.of(length))
              : substring(text, length(text) + " - " + length + " + 1", Optional.empty());
      default -> side + "(" + text + ", " + length + ")";
    };
  }

  /** A text filled up to a length. */
  String pad(String function, String text, String length, Optional<String> character) {
    String filler = character.orElse("' '");
    return switch (database) {
      case "mssql" ->
          function.equals("lpad")
              ? "right(replicate(" + filler + ", " + length + ") + " + text + ", " + length + ")"
              : "left(" + text + " + replicate(" + filler + ", " + length + "), " + length + ")";
      case "sqlite" -> {
        String fill = "replace(hex(zeroblob(" + length + ")), '00', " + filler + ")";
        yield function.equals("lpad")
            ? "substr(" + fill + " || " + text + ", -" + length + ")"
            : "substr(" + text + " || " + fill + ", 1, " + length + ")";
      }
      default -> function + "(" + text + ", " + length + ", " + filler + ")";
    };
  }

  /** The name of rounding up. */
  String ceiling() {
    return switch (database) {
      case "oracle", "sqlite", "db2" -> "ceil";
      default -> "ceiling";
    };
  }

  /** The texts of a group in one. */
  String listagg(String item, String separator, Optional<String> order) {
    String ordered = order.map(it -> " " + it).orElse("");
    return switch (database) {
      case "postgresql" -> "string_agg(" + item + ", " + separator + ordered + ")";
      case "mysql", "mariadb", "hsqldb" ->
          "group_concat(" + item + ordered + " separator " + separator + ")";
      case "sqlite" -> "group_concat(" + item + ", " + separator + ")";
      case "mssql" ->
          "string_agg("
              + item
              + ", "
              + separator
              + ")"
              + order.map(it -> " within group (" + it + ")").orElse("");
      default ->
          "listagg("
              + item
              + ", "
              + separator
              + ")"
              + order.map(it -> " within group (" + it + ")").orElse("");
    };
  }

  /** A moment cut down to a field; empty where the database has no function for that. */
  Optional<String> truncated(String field, String moment) {
    return switch (database) {
      case "postgresql", "h2", "db2" -> Optional.of("date_trunc('" + field + "', " + moment + ")");
      case "mssql" -> Optional.of("datetrunc(" + field + ", " + moment + ")");
      default -> Optional.empty();
    };
  }

  /** A number cut down to so many places. */
  String truncated(String number, String places, boolean written) {
    return switch (database) {
      case "mysql", "mariadb" -> "truncate(" + number + ", " + places + ")";
      case "mssql" -> "round(" + number + ", " + places + ", 1)";
      default -> "trunc(" + number + (written && places.equals("0") ? "" : ", " + places) + ")";
    };
  }

  /** A moment moved by a number of units; empty where the database has no form for that. */
  Optional<String> moved(String moment, String amount, String field) {
    return switch (database) {
      case "postgresql" ->
          Optional.of("(" + moment + " + (" + amount + ") * interval '1 " + field + "')");
      case "mysql", "mariadb" ->
          Optional.of("date_add(" + moment + ", interval " + amount + " " + field + ")");
      case "mssql", "h2" -> Optional.of("dateadd(" + field + ", " + amount + ", " + moment + ")");
      case "hsqldb" -> Optional.of("dateadd('" + field + "', " + amount + ", " + moment + ")");
      case "oracle" ->
          Optional.of(
              "("
                  + moment
                  + " + "
                  + (field.equals("year") || field.equals("month")
                      ? "numtoyminterval("
                      : "numtodsinterval(")
                  + amount
                  + ", '"
                  + field
                  + "'))");
      // "ADD_DAYS scalar function" and its like, Db2 SQL reference.
      case "db2" -> Optional.of("add_" + field + "s(" + moment + ", " + amount + ")");
      // JDBC escape, which Derby's reference manual names for this.
      case "derby" ->
          Optional.of(
              "{fn timestampadd(SQL_TSI_"
                  + field.toUpperCase(java.util.Locale.ROOT)
                  + ", "
                  + amount
                  + ", "
                  + moment
                  + ")}");
      case "sqlite" ->
          Optional.of("datetime(" + moment + ", (" + amount + ") || ' " + field + "')");
      default -> Optional.empty();
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

  /** A CAST to a type by its name in JPQL; Derby makes texts of numbers by way of CHAR alone. */
  String cast(String value, String name, String length) {
    boolean text = name.equalsIgnoreCase("string") && length.isEmpty();
    return database.equals("derby") && text
        ? "trim(cast(" + value + " as char(254)))"
        : "cast(" + value + " as " + type(name, length) + ")";
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
