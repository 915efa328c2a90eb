package dev.colonnade.sql;

import java.util.List;
import java.util.Locale;
import java.util.Set;
import net.sf.jsqlparser.expression.Expression;
import net.sf.jsqlparser.parser.CCJSqlParser;
import net.sf.jsqlparser.parser.CCJSqlParserConstants;
import net.sf.jsqlparser.parser.ParseException;
import net.sf.jsqlparser.parser.StringProvider;
import net.sf.jsqlparser.parser.Token;
import net.sf.jsqlparser.parser.TokenMgrException;
import net.sf.jsqlparser.statement.Statement;

/** Parses SQL text as one database writes it. Starts no thread. */
public final class SqlParser {
  /** Databases in which square brackets quote names. */
  private static final Set<String> BRACKETS = Set.of("mssql", "sqlite");

  /** Databases in which a backslash in a string quotes the next character. */
  private static final Set<String> BACKSLASHES = Set.of("mysql", "mariadb");

  private final String database;

  /** A parser for the database of that Liquibase short name. */
  public SqlParser(String database) {
    this.database = database.toLowerCase(Locale.ROOT);
  }

  /**
   * The statements of a text.
   *
   * @throws UnreadableSqlException with the place in the text where it does not parse
   */
  public List<Statement> statements(String sql) {
    return parse(
        sql,
        parser -> {
          List<Statement> statements = List.copyOf(parser.Statements());
          return statements;
        });
  }

  /**
   * A text that is one expression or condition.
   *
   * @throws UnreadableSqlException with the place in the text where it does not parse
   */
  public Expression expression(String sql) {
    return parse(
        sql,
        parser -> {
          Expression expression = parser.Expression();
          Token next = parser.getNextToken();
          if (next.kind != CCJSqlParserConstants.EOF) {
            throw unexpected(next);
          }
          return expression;
        });
  }

  private <T> T parse(String sql, Production<T> production) {
    CCJSqlParser parser =
        new CCJSqlParser(new StringProvider(sql))
            .withAllowComplexParsing(true)
            .withSquareBracketQuotation(BRACKETS.contains(database))
            .withBackslashEscapeCharacter(BACKSLASHES.contains(database));
    try {
      return production.apply(parser);
    } catch (ParseException e) {
      Token token = e.currentToken == null ? null : e.currentToken.next;
      throw token == null ? new UnreadableSqlException("SQL does not parse") : unexpected(token);
    } catch (TokenMgrException e) {
      throw new UnreadableSqlException("SQL has a character that cannot stand there");
    } catch (StackOverflowError e) {
      throw new UnreadableSqlException("SQL is nested too deeply");
    }
  }

  private static UnreadableSqlException unexpected(Token token) {
    String reason =
        token.kind == CCJSqlParserConstants.EOF
            ? "SQL ends unexpectedly"
            : "unexpected '" + token.image + "' in SQL";
    return new UnreadableSqlException(reason, token.beginLine, token.beginColumn);
  }

  /** One start symbol of the grammar. */
  private interface Production<T> {
    T apply(CCJSqlParser parser) throws ParseException;
  }
}
