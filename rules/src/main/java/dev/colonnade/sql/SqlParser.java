package dev.colonnade.sql;

import java.util.Locale;
import java.util.Set;
import net.sf.jsqlparser.expression.Expression;
import net.sf.jsqlparser.parser.CCJSqlParser;
import net.sf.jsqlparser.parser.CCJSqlParserConstants;
import net.sf.jsqlparser.parser.ParseException;
import net.sf.jsqlparser.parser.StringProvider;
import net.sf.jsqlparser.parser.Token;
import net.sf.jsqlparser.parser.TokenMgrException;

/**
 * Parses SQL text as one database writes it, placeholders of every kind included. No thread is
 * started.
 */
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
  public ParsedSql parse(String sql) {
    Placeholders rewritten = Rewriter.rewrite(sql, database);
    return new ParsedSql(parse(rewritten, CCJSqlParser::Statements), rewritten);
  }

  /**
   * A text that is one expression or condition, such as an index key.
   *
   * @throws UnreadableSqlException with the place in the text where it does not parse
   */
  public Expression expression(String sql) {
    Placeholders unchanged = new Placeholders(sql);
    unchanged.copy(0, sql.length());
    return parse(
        unchanged,
        parser -> {
          Expression expression = parser.Expression();
          Token next = parser.getNextToken();
          if (next.kind != CCJSqlParserConstants.EOF) {
            throw unexpected(next, unchanged);
          }
          return expression;
        });
  }

  private <T> T parse(Placeholders text, Production<T> production) {
    CCJSqlParser parser =
        new CCJSqlParser(new StringProvider(text.text()))
            .withAllowComplexParsing(true)
            .withSquareBracketQuotation(BRACKETS.contains(database))
            .withBackslashEscapeCharacter(BACKSLASHES.contains(database));
    try {
      return production.apply(parser);
    } catch (ParseException e) {
      Token token = e.currentToken == null ? null : e.currentToken.next;
      throw token == null
          ? new UnreadableSqlException("SQL does not parse")
          : unexpected(token, text);
    } catch (TokenMgrException e) {
      throw new UnreadableSqlException("SQL has a character that cannot stand there");
    } catch (StackOverflowError e) {
      throw new UnreadableSqlException("SQL is nested too deeply");
    }
  }

  private static UnreadableSqlException unexpected(Token token, Placeholders text) {
    String reason =
        token.kind == CCJSqlParserConstants.EOF
            ? "SQL ends unexpectedly"
            : "unexpected '" + text.restore(token.image) + "' in SQL";
    int[] place = text.originalPlace(token.beginLine, token.beginColumn);
    return new UnreadableSqlException(reason, place[0], place[1]);
  }

  /** One start symbol of the grammar. */
  private interface Production<T> {
    T apply(CCJSqlParser parser) throws ParseException;
  }
}
