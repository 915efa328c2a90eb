package dev.colonnade.schema.sql;

import dev.colonnade.schema.sql.SqlToken.Kind;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.regex.PatternSyntaxException;

/** Splits SQL text into statements. The body of a procedure stays in one piece. */
final class StatementSplitter {
  private static final Set<String> BODIES =
      Set.of("PROCEDURE", "FUNCTION", "TRIGGER", "PACKAGE", "EVENT");

  private StatementSplitter() {}

  /**
   * The statements of a text, each as its words.
   *
   * @param endDelimiter what ends a statement beside a semicolon, as Liquibase's {@code
   *     endDelimiter}: literal text or a regular expression
   */
  static List<List<SqlToken>> split(String sql, Optional<String> endDelimiter) {
    List<List<SqlToken>> statements = new ArrayList<>();
    int from = 0;
    if (endDelimiter.isPresent() && !endDelimiter.get().strip().equals(";")) {
      Matcher matcher = delimiter(endDelimiter.get()).matcher(sql);
      while (matcher.find(from) && matcher.end() > matcher.start()) {
        splitPart(sql, from, matcher.start(), statements);
        from = matcher.end();
      }
    }
    splitPart(sql, from, sql.length(), statements);
    return statements;
  }

  private static Pattern delimiter(String text) {
    int flags = Pattern.CASE_INSENSITIVE | Pattern.MULTILINE;
    if (text.indexOf('\\') < 0) {
      return Pattern.compile(Pattern.quote(text), flags);
    }
    try {
      return Pattern.compile(text, flags);
    } catch (PatternSyntaxException e) {
      return Pattern.compile(Pattern.quote(text), flags);
    }
  }

  private static void splitPart(String sql, int from, int to, List<List<SqlToken>> statements) {
    List<SqlToken> current = new ArrayList<>();
    int depth = 0;
    boolean body = false;
    for (SqlToken token : SqlTokenizer.tokens(sql.substring(from, to))) {
      SqlToken moved =
          new SqlToken(token.kind(), token.text(), token.start() + from, token.end() + from);
      if (isSeparatorLine(sql, moved)) {
        flush(current, statements);
        depth = 0;
        body = false;
        continue;
      }
      if (moved.is(";") && (!body || depth <= 0)) {
        flush(current, statements);
        depth = 0;
        body = false;
        continue;
      }
      current.add(moved);
      if (!body) {
        body = startsBody(current);
        depth = body && isBlock(current.get(0)) ? 1 : 0;
      } else if (moved.is("BEGIN") || moved.is("CASE")) {
        depth = beginsTransactionWord(current) ? depth : depth + 1;
      } else if (moved.is("IF") || moved.is("LOOP")) {
        depth = follows(current, "END") || !isStatementStart(current) ? depth : depth + 1;
      } else if (moved.is("END")) {
        depth--;
      }
    }
    flush(current, statements);
  }

  private static void flush(List<SqlToken> current, List<List<SqlToken>> statements) {
    if (!current.isEmpty()) {
      statements.add(List.copyOf(current));
      current.clear();
    }
  }

  /**
   * A line with nothing but {@code GO} or a slash, as command-line clients of databases have it.
   */
  private static boolean isSeparatorLine(String sql, SqlToken token) {
    if (!token.is("GO") && !token.is("/")) {
      return false;
    }
    int start = sql.lastIndexOf('\n', token.start()) + 1;
    int end = sql.indexOf('\n', token.end());
    return sql.substring(start, end < 0 ? sql.length() : end)
        .strip()
        .equalsIgnoreCase(token.text());
  }

  /** True once the words so far say that semicolons may follow inside the statement. */
  private static boolean startsBody(List<SqlToken> current) {
    SqlToken last = current.get(current.size() - 1);
    if (current.size() == 1) {
      return isBlock(last);
    }
    return current.get(0).is("CREATE")
        && current.size() <= 8
        && last.kind() == Kind.WORD
        && BODIES.stream().anyMatch(last::is)
        && current.stream().noneMatch(token -> token.is("ON") || token.is("TABLE"));
  }

  private static boolean isBlock(SqlToken first) {
    return first.is("BEGIN") || first.is("DECLARE");
  }

  private static boolean beginsTransactionWord(List<SqlToken> current) {
    return follows(current, "END");
  }

  private static boolean follows(List<SqlToken> current, String word) {
    return current.size() > 1 && current.get(current.size() - 2).is(word);
  }

  private static boolean isStatementStart(List<SqlToken> current) {
    SqlToken before = current.get(current.size() - 2);
    return before.is(";")
        || before.is("THEN")
        || before.is("ELSE")
        || before.is("BEGIN")
        || before.is("LOOP")
        || before.is("DO");
  }
}
