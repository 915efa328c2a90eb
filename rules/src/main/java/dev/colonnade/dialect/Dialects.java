package dev.colonnade.dialect;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The supported databases. */
public final class Dialects {
  private static final Dialect POSTGRESQL = PostgreSql.from18();
  private static final Dialect POSTGRESQL_BEFORE_18 = PostgreSql.before18();
  private static final Dialect MYSQL = InnoDb.mysql();
  private static final Dialect MARIADB = InnoDb.mariadb();
  private static final Dialect ORACLE = Oracle.value();
  private static final Dialect SQL_SERVER = SqlServer.value();
  private static final Dialect DB2 = Db2.value();
  private static final Dialect SQLITE = SqLite.value();
  private static final Dialect H2_DATABASE = H2.value();
  private static final Dialect HSQLDB = HsqlDb.value();
  private static final Dialect DERBY = Derby.value();

  private static final List<Dialect> ALL =
      List.of(
          POSTGRESQL, MYSQL, MARIADB, ORACLE, SQL_SERVER, DB2, SQLITE, H2_DATABASE, HSQLDB, DERBY);

  private Dialects() {}

  /** Every database, one value each, in the order in which they are named to people. */
  public static List<Dialect> all() {
    return ALL;
  }

  /** The database with that short name, letter case aside. */
  public static Optional<Dialect> byShortName(String shortName) {
    String wanted = shortName.strip().toLowerCase(Locale.ROOT);
    return ALL.stream().filter(dialect -> dialect.shortName().equals(wanted)).findFirst();
  }

  /** PostgreSQL 18 and later: may jump over a leading column with few values. */
  public static Dialect postgresql() {
    return POSTGRESQL;
  }

  /** PostgreSQL up to version 17, and in what an IN list does to the order up to version 16. */
  public static Dialect postgresqlBefore18() {
    return POSTGRESQL_BEFORE_18;
  }

  /** MySQL 8 with InnoDB. */
  public static Dialect mysql() {
    return MYSQL;
  }

  /** MariaDB with InnoDB. */
  public static Dialect mariadb() {
    return MARIADB;
  }

  /** Oracle Database. */
  public static Dialect oracle() {
    return ORACLE;
  }

  /** Microsoft SQL Server. */
  public static Dialect mssql() {
    return SQL_SERVER;
  }

  /** Db2 for Linux, UNIX and Windows. */
  public static Dialect db2() {
    return DB2;
  }

  /** SQLite. */
  public static Dialect sqlite() {
    return SQLITE;
  }

  /** H2. */
  public static Dialect h2() {
    return H2_DATABASE;
  }

  /** HSQLDB. */
  public static Dialect hsqldb() {
    return HSQLDB;
  }

  /** Apache Derby. */
  public static Dialect derby() {
    return DERBY;
  }
}
