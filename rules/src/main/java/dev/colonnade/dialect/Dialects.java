package dev.colonnade.dialect;

import static dev.colonnade.dialect.DatabaseVersion.NEWEST;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The supported databases; of the newest version unless said otherwise. */
public final class Dialects {
  private static final Dialect POSTGRESQL = PostgreSql.at(NEWEST);
  private static final Dialect POSTGRESQL_BEFORE_18 = before18();
  private static final Dialect MYSQL = InnoDb.mysql(NEWEST);
  private static final Dialect MARIADB = InnoDb.mariadb(NEWEST);
  private static final Dialect ORACLE = Oracle.at(NEWEST);
  private static final Dialect SQL_SERVER = SqlServer.at(NEWEST);
  private static final Dialect DB2 = Db2.at(NEWEST);
  private static final Dialect SQLITE = SqLite.at(NEWEST);
  private static final Dialect H2_DATABASE = H2.at(NEWEST);
  private static final Dialect HSQLDB = HsqlDb.at(NEWEST);
  private static final Dialect DERBY = Derby.at(NEWEST);

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

  /**
   * A database as it is in one version.
   *
   * @param database the database, of whatever version
   * @param version as its maker writes it: {@code 15}, {@code 15.4}, {@code 8.0.36}, {@code 19c}
   * @throws IllegalArgumentException with a message for the user where the text is no version, or
   *     one that is not known here
   */
  public static Dialect atVersion(Dialect database, String version) {
    return KnownVersions.of(database.shortName()).at(database.displayName(), version);
  }

  private static Dialect before18() {
    return PostgreSql.at(DatabaseVersion.read("16").orElseThrow());
  }

  /** PostgreSQL 18 and later: may jump over a leading column with few values. */
  public static Dialect postgresql() {
    return POSTGRESQL;
  }

  /** PostgreSQL 16: no jump over a leading column, and an IN list may lose the order. */
  public static Dialect postgresqlBefore18() {
    return POSTGRESQL_BEFORE_18;
  }

  /** MySQL with InnoDB. */
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
