package dev.colonnade.dialect;

import dev.colonnade.dialect.ComparisonRules.Conversion;
import java.util.Map;

/** The {@link ComparisonRules} of each supported database, each fact with its source. */
final class ComparisonRulesByDatabase {
  private static final String POSTGRESQL_RUN = "observed on PostgreSQL 18.6";
  private static final String H2_RUN = "observed on H2 2.5.252";
  private static final String HSQLDB_RUN = "observed on HSQLDB 2.7.4";
  private static final String SQLITE_RUN = "observed on SQLite 3.54.1";
  private static final String MYSQL_TYPES =
      "https://dev.mysql.com/doc/refman/8.4/en/type-conversion.html: for comparisons of a string"
          + " column with a number no index on the column is used";
  private static final String PRECEDENCE =
      "data type precedence (Transact-SQL): the lower type is converted to the higher, "
          + Sources.MEMORY;
  private static final String ORACLE_RULES =
      "SQL Language Reference, data conversion: a character value compared with a number or a date"
          + " is converted, "
          + Sources.MEMORY;
  private static final String DB2_RULES =
      "implicit casting since 9.7: the string is cast to the other type, " + Sources.MEMORY;
  private static final String DERBY_RULES =
      "Reference Manual, data type assignments and comparison: not comparable, " + Sources.MEMORY;

  private static final ComparisonRules POSTGRESQL =
      new ComparisonRules(
          Fact.of(Conversion.REJECTED, POSTGRESQL_RUN + ": operator does not exist"),
          Fact.of(Conversion.REJECTED, POSTGRESQL_RUN + ": operator does not exist"),
          Fact.of(Conversion.COLUMN, POSTGRESQL_RUN + ": filter on (n)::numeric"),
          Fact.of(false, "the driver leaves the type of text open, common practice"),
          Fact.of(
              true,
              "https://www.postgresql.org/docs/18/sql-prepare.html, custom plans unless a generic"
                  + " one costs no more; "
                  + POSTGRESQL_RUN));

  private static final ComparisonRules MYSQL =
      new ComparisonRules(
          Fact.of(Conversion.COLUMN, MYSQL_TYPES),
          Fact.of(Conversion.UNKNOWN, "not confirmed"),
          Fact.of(Conversion.VALUE, Sources.MEMORY),
          Fact.of(false, "one character set for the connection, " + Sources.MEMORY),
          Fact.of(true, "a plan is made for each execution, " + Sources.MEMORY));

  private static final ComparisonRules ORACLE =
      new ComparisonRules(
          Fact.of(Conversion.COLUMN, ORACLE_RULES),
          Fact.of(Conversion.COLUMN, ORACLE_RULES),
          Fact.of(Conversion.VALUE, "one type of number, " + Sources.MEMORY),
          Fact.of(false, "unless defaultNChar is set, " + Sources.MEMORY),
          Fact.of(false, "the cursor is shared by all values, common practice"));

  private static final ComparisonRules SQL_SERVER =
      new ComparisonRules(
          Fact.of(Conversion.COLUMN, PRECEDENCE),
          Fact.of(Conversion.COLUMN, PRECEDENCE),
          Fact.of(Conversion.UNKNOWN, "not confirmed"),
          Fact.of(
              true,
              "JDBC driver, connection property sendStringParametersAsUnicode is true by default;"
                  + " nvarchar stands above varchar in the precedence of types, "
                  + Sources.MEMORY),
          Fact.of(false, "the plan is kept for all values unless recompiled, common practice"));

  private static final ComparisonRules DB2 =
      new ComparisonRules(
          Fact.of(Conversion.COLUMN, DB2_RULES),
          Fact.of(Conversion.UNKNOWN, "not confirmed"),
          Fact.of(Conversion.UNKNOWN, "not confirmed"),
          Fact.of(false, Sources.MEMORY),
          Fact.of(false, "unless REOPT is asked for, " + Sources.MEMORY));

  private static final ComparisonRules SQLITE =
      new ComparisonRules(
          Fact.of(
              Conversion.VALUE,
              "https://www.sqlite.org/datatype3.html, 4.2: text affinity is applied to the literal;"
                  + " "
                  + SQLITE_RUN),
          Fact.of(Conversion.VALUE, "moments are texts or numbers; " + SQLITE_RUN),
          Fact.of(Conversion.VALUE, SQLITE_RUN),
          Fact.of(false, "one kind of text"),
          Fact.of(false, SQLITE_RUN + ": the table is scanned"));

  private static final ComparisonRules H2 =
      new ComparisonRules(
          Fact.of(Conversion.COLUMN, H2_RUN + ": the table is scanned"),
          Fact.of(Conversion.COLUMN, H2_RUN + ": the table is scanned"),
          Fact.of(Conversion.COLUMN, H2_RUN + ": the table is scanned"),
          Fact.of(false, "one kind of text"),
          Fact.of(false, H2_RUN + ": the table is scanned"));

  private static final ComparisonRules HSQLDB =
      new ComparisonRules(
          Fact.of(Conversion.COLUMN, HSQLDB_RUN + ": cast of the column"),
          Fact.of(Conversion.COLUMN, HSQLDB_RUN + ": cast of the column"),
          Fact.of(Conversion.VALUE, HSQLDB_RUN),
          Fact.of(false, "one kind of text"),
          Fact.of(false, HSQLDB_RUN + ": full scan"));

  private static final ComparisonRules DERBY =
      new ComparisonRules(
          Fact.of(Conversion.REJECTED, DERBY_RULES),
          Fact.of(Conversion.UNKNOWN, "not confirmed"),
          Fact.of(Conversion.UNKNOWN, "not confirmed"),
          Fact.of(false, "one kind of text"),
          Fact.of(false, "the plan is kept for all values, " + Sources.MEMORY));

  private static final Map<String, ComparisonRules> BY_SHORT_NAME =
      Map.of(
          "postgresql", POSTGRESQL,
          "mysql", MYSQL,
          "mariadb", MYSQL,
          "oracle", ORACLE,
          "mssql", SQL_SERVER,
          "db2", DB2,
          "sqlite", SQLITE,
          "h2", H2,
          "hsqldb", HSQLDB,
          "derby", DERBY);

  private ComparisonRulesByDatabase() {}

  static ComparisonRules of(String shortName) {
    ComparisonRules rules = BY_SHORT_NAME.get(shortName);
    if (rules == null) {
      throw new IllegalArgumentException("no rules of comparison for database " + shortName);
    }
    return rules;
  }
}
