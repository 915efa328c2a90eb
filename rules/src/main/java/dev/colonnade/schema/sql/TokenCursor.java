package dev.colonnade.schema.sql;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/** A place among the words of one statement. */
final class TokenCursor {
  private final String sql;
  private final List<SqlToken> tokens;
  private int at;
  private boolean lenient;

  TokenCursor(String sql, List<SqlToken> tokens) {
    this.sql = sql;
    this.tokens = tokens;
  }

  /**
   * The name of a table or index.
   *
   * @param schema the part in front of it, if written
   */
  record Name(Optional<Identifier> schema, Identifier name) {
    /** The name as it was written. */
    Identifier written() {
      return Identifier.in(schema, name);
    }
  }

  boolean atEnd() {
    return at >= tokens.size();
  }

  /** The offset of the next word in the text, or of the last one at the end. */
  int offset() {
    return tokens.isEmpty() ? 0 : tokens.get(Math.min(at, tokens.size() - 1)).start();
  }

  SqlToken peek() {
    return peek(0);
  }

  SqlToken peek(int ahead) {
    return at + ahead < tokens.size()
        ? tokens.get(at + ahead)
        : new SqlToken(SqlToken.Kind.SIGN, "", sql.length(), sql.length());
  }

  SqlToken next() {
    SqlToken token = peek();
    at++;
    return token;
  }

  /** True when the next words are these. */
  boolean looksAt(String... words) {
    for (int i = 0; i < words.length; i++) {
      if (!peek(i).is(words[i])) {
        return false;
      }
    }
    return true;
  }

  /** Passes these words if they come next. */
  boolean accept(String... words) {
    boolean there = looksAt(words);
    if (there) {
      at += words.length;
    }
    return there;
  }

  /** Passes one of these words if it comes next. */
  boolean acceptAny(String... words) {
    for (String word : words) {
      if (accept(word)) {
        return true;
      }
    }
    return false;
  }

  void expect(String word) {
    if (!accept(word)) {
      throw unexpected("expected " + word);
    }
  }

  UnreadableSqlException unexpected(String reason) {
    return new UnreadableSqlException(
        reason + (atEnd() ? " at the end of the statement" : " at '" + peek().text() + "'"));
  }

  Identifier identifier() {
    if (!peek().isName()) {
      throw unexpected("expected a name");
    }
    return new Identifier(next().text());
  }

  /** A name with the names in front of it, of which the last is the schema. */
  Name name() {
    Optional<Identifier> schema = Optional.empty();
    Identifier name = identifier();
    while (accept(".")) {
      if (peek().isName()) {
        schema = Optional.of(name);
        name = identifier();
      }
    }
    return new Name(schema, name);
  }

  /** From here on, reads as if IF EXISTS and IF NOT EXISTS were written wherever they can be. */
  void beLenient() {
    lenient = true;
  }

  boolean acceptIfExists() {
    return accept("IF", "EXISTS") || lenient;
  }

  boolean acceptIfNotExists() {
    return accept("IF", "NOT", "EXISTS") || lenient;
  }

  /** Passes a group in parentheses and gives the words in it. */
  TokenCursor group() {
    expect("(");
    int start = at;
    int depth = 1;
    while (depth > 0) {
      if (atEnd()) {
        throw unexpected("a parenthesis is not closed");
      }
      SqlToken token = next();
      depth += token.is("(") ? 1 : token.is(")") ? -1 : 0;
    }
    return new TokenCursor(sql, tokens.subList(start, at - 1));
  }

  /** Passes a group in parentheses if one comes next. */
  void skipGroup() {
    if (looksAt("(")) {
      group();
    }
  }

  /** The rest, cut at commas outside parentheses. */
  List<TokenCursor> splitAtCommas() {
    List<TokenCursor> parts = new ArrayList<>();
    int start = at;
    int depth = 0;
    for (int i = at; i <= tokens.size(); i++) {
      boolean end = i == tokens.size();
      if (end || (depth == 0 && tokens.get(i).is(","))) {
        if (i > start) {
          parts.add(part(start, i));
        }
        start = i + 1;
      } else {
        depth += tokens.get(i).is("(") ? 1 : tokens.get(i).is(")") ? -1 : 0;
      }
    }
    at = tokens.size();
    return parts;
  }

  /** The rest, cut before each place outside parentheses that satisfies the condition. */
  List<TokenCursor> splitBefore(Predicate<TokenCursor> condition) {
    List<TokenCursor> parts = new ArrayList<>();
    int start = at;
    int depth = 0;
    for (int i = at; i < tokens.size(); i++) {
      if (i > start && depth == 0 && condition.test(part(i, tokens.size()))) {
        parts.add(part(start, i));
        start = i;
      }
      depth += tokens.get(i).is("(") ? 1 : tokens.get(i).is(")") ? -1 : 0;
    }
    parts.add(part(start, tokens.size()));
    at = tokens.size();
    return parts;
  }

  private TokenCursor part(int start, int end) {
    TokenCursor part = new TokenCursor(sql, tokens.subList(start, end));
    part.lenient = lenient;
    return part;
  }

  /** Names in parentheses. */
  List<Identifier> nameList() {
    return group().splitAtCommas().stream().map(TokenCursor::identifier).toList();
  }

  /** Names of tables in parentheses. */
  List<Identifier> tableList() {
    return group().splitAtCommas().stream().map(part -> part.name().written()).toList();
  }

  /** The text of all that is left. */
  String rest() {
    if (atEnd()) {
      return "";
    }
    String text = sql.substring(peek().start(), tokens.get(tokens.size() - 1).end());
    at = tokens.size();
    return text;
  }

  /** The text from one offset up to the word that was passed last. */
  String textFrom(int start) {
    return at == 0 ? "" : sql.substring(start, tokens.get(at - 1).end());
  }

  int size() {
    return tokens.size() - at;
  }

  /** A second place that starts here and moves alone. */
  TokenCursor copy() {
    return new TokenCursor(sql, tokens.subList(Math.min(at, tokens.size()), tokens.size()));
  }
}
