package dev.colonnade.dialect;

import java.util.Set;

/**
 * How a database cuts the text of statements into words and statements.
 *
 * @param backslashEscapes true when a backslash in a string quotes the next character
 * @param hashComments true when a hash starts a comment
 * @param separatorOptional true when a statement may follow another without a semicolon
 */
public record LexicalRules(
    Fact<Boolean> backslashEscapes, Fact<Boolean> hashComments, Fact<Boolean> separatorOptional) {

  private static final Set<String> MYSQL_KIND = Set.of("mysql", "mariadb");

  /** The rules of a database. */
  public static LexicalRules of(Dialect dialect) {
    boolean mysql = MYSQL_KIND.contains(dialect.shortName());
    return new LexicalRules(
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
                + " a semicolon is not required for most statements there; elsewhere it is"));
  }
}
