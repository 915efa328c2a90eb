package dev.colonnade.schema.sql;

import dev.colonnade.dialect.StatementRules;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.regex.PatternSyntaxException;

/** Splits SQL text into statements. The body of a procedure stays in one piece. */
final class StatementSplitter {
  /** A line by which a command-line client of MySQL is told what ends a statement. */
  private static final Pattern DELIMITER =
      Pattern.compile("(?im)^[ \\t]*delimiter[ \\t]+(\\S+)[ \\t]*\\r?$");

  private final String sql;
  private final StatementRules rules;
  private final List<GuardedStatement> statements = new ArrayList<>();

  private StatementSplitter(String sql, StatementRules rules) {
    this.sql = sql;
    this.rules = rules;
  }

  /**
   * The statements of a text, each as its words.
   *
   * @param endDelimiter what ends a statement beside a semicolon, as Liquibase's {@code
   *     endDelimiter}: literal text or a regular expression
   */
  static List<GuardedStatement> split(
      String sql, Optional<String> endDelimiter, StatementRules rules) {
    StatementSplitter splitter = new StatementSplitter(sql, rules);
    Optional<String> delimiter = endDelimiter;
    int from = 0;
    Matcher line = DELIMITER.matcher(sql);
    while (line.find()) {
      splitter.section(from, line.start(), delimiter);
      delimiter = Optional.of(Pattern.quote(line.group(1)));
      from = line.end();
    }
    splitter.section(from, sql.length(), delimiter);
    return splitter.statements;
  }

  private void section(int start, int end, Optional<String> endDelimiter) {
    int from = start;
    if (endDelimiter.isPresent() && !endDelimiter.get().strip().equals(";")) {
      Matcher matcher = delimiter(endDelimiter.get()).matcher(sql).region(start, end);
      EndDelimiters places = new EndDelimiters(sql, start, end, rules);
      while (matcher.find() && matcher.end() > matcher.start()) {
        if (places.isPlace(matcher.start(), matcher.end())) {
          part(from, matcher.start());
          from = matcher.end();
        }
      }
    }
    part(from, end);
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

  private void part(int from, int to) {
    List<SqlToken> current = new ArrayList<>();
    BodyTracker tracker = new BodyTracker();
    boolean batches = rules.separatorOptional().value();
    List<SqlToken> tokens = SqlTokenizer.tokens(sql.substring(from, to), rules);
    for (int i = 0; i < tokens.size(); i++) {
      SqlToken token = moved(tokens.get(i), from);
      boolean separator =
          isSeparatorLine(token) || (!batches && token.is(";") && tracker.endsAtSemicolon());
      if (separator) {
        flush(current);
        tracker.reset();
        continue;
      }
      current.add(token);
      if (!batches) {
        tracker.see(current, i + 1 < tokens.size() ? tokens.get(i + 1) : end());
      }
    }
    flush(current);
  }

  private SqlToken end() {
    return new SqlToken(SqlToken.Kind.SIGN, ";", sql.length(), sql.length());
  }

  private static SqlToken moved(SqlToken token, int by) {
    return by == 0
        ? token
        : new SqlToken(token.kind(), token.text(), token.start() + by, token.end() + by);
  }

  private void flush(List<SqlToken> current) {
    if (current.isEmpty()) {
      return;
    }
    if (rules.separatorOptional().value()) {
      statements.addAll(TransactSplitter.split(sql, List.copyOf(current)));
    } else {
      statements.add(GuardedStatement.plain(current));
    }
    current.clear();
  }

  /**
   * A line with nothing but {@code GO} or a slash, as command-line clients of databases have it.
   */
  private boolean isSeparatorLine(SqlToken token) {
    if (!token.is("GO") && !token.is("/")) {
      return false;
    }
    int start = sql.lastIndexOf('\n', token.start()) + 1;
    int end = sql.indexOf('\n', token.end());
    return sql.substring(start, end < 0 ? sql.length() : end)
        .strip()
        .equalsIgnoreCase(token.text());
  }
}
