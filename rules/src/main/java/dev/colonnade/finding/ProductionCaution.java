package dev.colonnade.finding;

import dev.colonnade.dialect.Dialect;
import java.util.Map;

/**
 * What to look at before an index is built or dropped in production. Wording only: no verdict
 * depends on it.
 *
 * <p>Sources: PostgreSQL manual, CREATE INDEX and DROP INDEX, CONCURRENTLY; MySQL 8.4 manual
 * 10.3.12 "Invisible Indexes" and 17.12 "InnoDB and Online DDL"; MariaDB "Ignored Indexes"; Oracle
 * SQL reference, CREATE INDEX ONLINE and ALTER INDEX INVISIBLE; SQL Server, CREATE INDEX, ONLINE =
 * ON, and ALTER INDEX DISABLE. All from memory.
 */
public final class ProductionCaution {
  private static final String DECISION = "; the DBA in charge decides";

  private static final Map<String, String> DROP =
      Map.of(
          "postgresql", "drop index concurrently blocks no writer",
          "mysql", "make it invisible for a while first",
          "mariadb", "make it ignored for a while first",
          "oracle", "make it invisible for a while first",
          "mssql", "keep its definition, or disable it first");

  private static final Map<String, String> BUILD =
      Map.of(
          "postgresql", "create index concurrently blocks no writer",
          "mysql", "algorithm=inplace, lock=none blocks no writer",
          "mariadb", "algorithm=inplace, lock=none blocks no writer",
          "oracle", "create index online blocks no writer",
          "mssql", "online = on blocks no writer where the edition has it");

  private ProductionCaution() {}

  /** Before an index is dropped. */
  public static String dropping(Dialect dialect) {
    return "look first for readers outside this service: reports, replicas, month-end jobs"
        + phrase(DROP, dialect)
        + DECISION;
  }

  /** Before an index is built. */
  public static String building(Dialect dialect) {
    return "building it reads the whole table and may block writers meanwhile"
        + phrase(BUILD, dialect)
        + DECISION;
  }

  private static String phrase(Map<String, String> phrases, Dialect dialect) {
    String phrase = phrases.get(dialect.shortName());
    return phrase == null ? "" : "; " + phrase;
  }
}
