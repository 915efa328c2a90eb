package dev.colonnade.sql;

import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
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

  private static final Pattern LEXICAL_PLACE = Pattern.compile("line (\\d+), column (\\d+)");

  /** Far more than anybody writes, and less than what the parser takes long to give up on. */
  private static final int DEEPEST_NESTING = 400;

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

  private static boolean isTooDeep(String sql) {
    int depth = 0;
    for (int i = 0; i < sql.length(); i++) {
      char c = sql.charAt(i);
      depth += c == '(' ? 1 : c == ')' ? -1 : 0;
      if (depth > DEEPEST_NESTING) {
        return true;
      }
    }
    return false;
  }

  private <T> T parse(Placeholders text, Production<T> production) {
    if (isTooDeep(text.text())) {
      throw new UnreadableSqlException("SQL is nested too deeply");
    }
    CCJSqlParser parser =
        new CCJSqlParser(new StringProvider(text.text()))
            .withAllowComplexParsing(true)
            .withSquareBracketQuotation(BRACKETS.contains(database))
            .withBackslashEscapeCharacter(BACKSLASHES.contains(database));
    try {
      return production.apply(parser);
    } catch (ParseException e) {
      throw e.currentToken == null
          ? new UnreadableSqlException("SQL does not parse")
          : unexpected(farthest(e.currentToken), text);
    } catch (TokenMgrException e) {
      throw lexical(e, text);
    } catch (IllegalArgumentException | ArithmeticException | NullPointerException e) {
      // Literals such as {d 'x'} end so inside the parser.
      throw new UnreadableSqlException("SQL does not parse: a literal in it makes no sense");
    } catch (StackOverflowError e) {
      throw new UnreadableSqlException("SQL is nested too deeply");
    }
  }

  /**
   * The last token that was looked at. The parser looks ahead over whole clauses and gives up in
   * front of one that does not fit; what does not fit is where it stopped looking, or just before.
   */
  private static Token farthest(Token last) {
    Token token = last;
    while (token.next != null) {
      token = token.next;
    }
    return token;
  }

  private static UnreadableSqlException unexpected(Token token, Placeholders text) {
    Optional<String> placeholder = text.restoredName(token.image);
    String reason =
        token.kind == CCJSqlParserConstants.EOF
            ? "SQL ends too early"
            : "SQL does not parse near '" + placeholder.orElse(token.image) + "'";
    // The colon of a stand-in is a token of its own.
    int column = token.beginColumn - (placeholder.isPresent() ? 1 : 0);
    return at(reason, text, token.beginLine, column);
  }

  private static UnreadableSqlException lexical(TokenMgrException e, Placeholders text) {
    Matcher place = LEXICAL_PLACE.matcher(String.valueOf(e.getMessage()));
    String reason = "SQL has an open string, or a character that cannot stand there,";
    return place.find()
        ? at(reason, text, Integer.parseInt(place.group(1)), Integer.parseInt(place.group(2)))
        : new UnreadableSqlException(reason);
  }

  private static UnreadableSqlException at(String reason, Placeholders text, int line, int column) {
    int[] place = text.originalPlace(line, column);
    return new UnreadableSqlException(reason, place[0], place[1]);
  }

  /** One start symbol of the grammar. */
  private interface Production<T> {
    T apply(CCJSqlParser parser) throws ParseException;
  }
}
