package dev.colonnade.dialect;

import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * How a database cuts text into words and statements, and what some statements mean in it.
 *
 * @param backslashEscapes true when a backslash in a string quotes the next character
 * @param hashComments true when a hash starts a comment
 * @param separatorOptional true when a statement may follow another without a semicolon
 * @param likeCopiesIndexes true when {@code CREATE TABLE a LIKE b} copies indexes
 * @param catalogCase how its catalog writes names that were not quoted
 * @param columnForeignKeys false when REFERENCES behind a column is read and ignored
 * @param serialIsUnique true when the type SERIAL brings a unique key along
 * @param globalTemporaryKept true when a GLOBAL TEMPORARY table is defined for all connections
 * @param varcharIsText true when a cast from VARCHAR to TEXT changes no value and hides no index
 * @param identityIsKey true when the word IDENTITY makes its column the primary key
 * @param queriedNotNull which NOT NULL of columns a table keeps that is made from a query
 * @param defaultSchema the schema of names without one; empty where that depends on the connection
 */
public record StatementRules(
    Fact<Boolean> backslashEscapes,
    Fact<Boolean> hashComments,
    Fact<Boolean> separatorOptional,
    Fact<Boolean> likeCopiesIndexes,
    Fact<CatalogCase> catalogCase,
    Fact<Boolean> columnForeignKeys,
    Fact<Boolean> serialIsUnique,
    Fact<Boolean> globalTemporaryKept,
    Fact<Boolean> varcharIsText,
    Fact<Boolean> identityIsKey,
    Fact<QueriedNotNull> queriedNotNull,
    Fact<Optional<String>> defaultSchema) {

  /** How a catalog writes names that were not quoted. */
  public enum CatalogCase {
    /** In lower case. */
    LOWER,
    /** In upper case. */
    UPPER,
    /** In one or the other; it is compared without regard to case. */
    ANY
  }

  /** Which NOT NULL of columns a table keeps that is made from a query. */
  public enum QueriedNotNull {
    /** None. */
    LOST,
    /** Those that were written for the column, not those of a primary key. */
    WRITTEN,
    /** All. */
    KEPT
  }

  private static final Set<String> QUERIES_KEEP_NOT_NULL =
      Set.of("mysql", "mariadb", "mssql", "db2", "derby");

  private static final Set<String> MYSQL_KIND = Set.of("mysql", "mariadb");

  private static final Set<String> UPPER = Set.of("oracle", "db2", "h2", "hsqldb", "derby");

  private static final Set<String> GLOBAL_TEMPORARY =
      Set.of("oracle", "db2", "h2", "hsqldb", "derby");

  private static final Map<String, String> DEFAULT_SCHEMAS =
      Map.of(
          "postgresql", "public",
          "mssql", "dbo",
          "sqlite", "main",
          "h2", "PUBLIC",
          "hsqldb", "PUBLIC",
          "derby", "APP");

  /** The rules of a database. */
  public static StatementRules of(Dialect dialect) {
    boolean mysql = MYSQL_KIND.contains(dialect.shortName());
    return new StatementRules(
        Fact.of(
            mysql,
            mysql
                ? "https://dev.mysql.com/doc/refman/8.4/en/string-literals.html: unless"
                    + " NO_BACKSLASH_ESCAPES is set"
                : "SQL standard: a quote is doubled"),
        Fact.of(
            mysql,
            mysql
                ? "https://dev.mysql.com/doc/refman/8.4/en/comments.html"
                : "SQL standard: comments start with two hyphens or a slash and an asterisk"),
        Fact.of(
            dialect.shortName().equals("mssql"),
            "https://learn.microsoft.com/sql/t-sql/language-elements/transact-sql-syntax-conventions-transact-sql:"
                + " a semicolon is not required for most statements there; elsewhere it is"),
        Fact.of(
            mysql,
            mysql
                ? "https://dev.mysql.com/doc/refman/8.4/en/create-table-like.html: column"
                    + " attributes and indexes, but no foreign keys"
                : Sources.MEMORY),
        Fact.of(
            UPPER.contains(dialect.shortName())
                ? CatalogCase.UPPER
                : dialect.shortName().equals("postgresql") ? CatalogCase.LOWER : CatalogCase.ANY,
            "SQL standard: folded to upper case; in PostgreSQL to lower case"
                + " (https://www.postgresql.org/docs/18/sql-syntax-lexical.html); MySQL, MariaDB,"
                + " SQL Server and SQLite compare such names without regard to case by default"),
        Fact.of(
            !dialect.shortName().equals("mysql") || dialect.version().from(9),
            "https://dev.mysql.com/doc/refman/8.4/en/create-table.html: MySQL parses but ignores"
                + " inline REFERENCES specifications; from 9.0 on (release notes 9.0.0, "
                + Sources.MEMORY
                + ") it makes the key, as the others do"),
        Fact.of(
            mysql,
            "https://dev.mysql.com/doc/refman/8.4/en/numeric-type-syntax.html: SERIAL is BIGINT"
                + " UNSIGNED NOT NULL AUTO_INCREMENT UNIQUE; in PostgreSQL it is a default alone"),
        Fact.of(
            GLOBAL_TEMPORARY.contains(dialect.shortName()),
            "SQL standard: only the rows are temporary; PostgreSQL takes and ignores the word"
                + " (https://www.postgresql.org/docs/18/sql-createtable.html)"),
        Fact.of(
            dialect.shortName().equals("postgresql"),
            "https://www.postgresql.org/docs/18/sql-createcast.html: binary coercible; pg_dump"
                + " writes such casts where none was written"),
        Fact.of(
            dialect.shortName().equals("hsqldb"),
            "http://hsqldb.org/doc/2.0/guide/databaseobjects-chapt.html: IDENTITY is short for"
                + " GENERATED BY DEFAULT AS IDENTITY PRIMARY KEY; from memory, observed"),
        Fact.of(
            QUERIES_KEEP_NOT_NULL.contains(dialect.shortName())
                ? QueriedNotNull.KEPT
                : dialect.shortName().equals("oracle")
                    ? QueriedNotNull.WRITTEN
                    : QueriedNotNull.LOST,
            "observed on MariaDB 11.4, Derby, H2, HSQLDB, SQLite and PostgreSQL 18; Oracle, SQL"
                + " Server and Db2 from memory of CREATE TABLE and SELECT INTO in their manuals"),
        Fact.of(
            Optional.ofNullable(DEFAULT_SCHEMAS.get(dialect.shortName())),
            "https://www.postgresql.org/docs/18/ddl-schemas.html (public);"
                + " https://learn.microsoft.com/sql/relational-databases/security/authentication-access/ownership-and-user-schema-separation"
                + " (dbo); https://www.sqlite.org/lang_attach.html (main); H2, HSQLDB and Derby"
                + " observed; in the others it is the user's or the connection's"));
  }
}
