package dev.colonnade.schema.sql;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.dialect.StatementRules;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.sql.GuardedStatement.Guard;
import dev.colonnade.sql.SqlParser;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.IntFunction;

/**
 * Reads SQL statements as effects on the schema.
 *
 * <p>Statements that cannot touch tables, columns, keys or indexes have no effect and leave no
 * entry. A statement that could and was not understood becomes one entry; the next one is read as
 * usual. Blocks are looked through: what runs for certain, or is guarded by a question for the very
 * thing that it makes or drops, is read; the rest becomes an entry. A reader remembers the routines
 * that it saw, so that calls of those that change tables become entries, too.
 */
public final class DdlReader {
  private final SqlParser parser;
  private final SchemaRules rules;
  private final StatementRules statementRules;
  private final Routines routines = new Routines();

  /** A reader for one database's SQL. */
  public DdlReader(Dialect dialect) {
    this.parser = new SqlParser(dialect.shortName());
    this.rules = SchemaRules.of(dialect);
    this.statementRules = StatementRules.of(dialect);
  }

  /**
   * Reads all statements of a text.
   *
   * @param endDelimiter what ends a statement beside a semicolon: literal text or a regular
   *     expression, as in Liquibase
   * @param places the place of a character of the text, counted from 0
   */
  public DdlResult read(
      String sql, Optional<String> endDelimiter, IntFunction<SourceLocation> places) {
    Script script = new Script(sql, places);
    for (GuardedStatement statement : StatementSplitter.split(sql, endDelimiter, statementRules)) {
      script.statement(statement);
    }
    return new DdlResult(script.changes, script.notUnderstood);
  }

  /** One text on its way through the reader. */
  private final class Script {
    private final String sql;
    private final IntFunction<SourceLocation> places;
    private final List<SchemaChange> changes = new ArrayList<>();
    private final List<NotUnderstood> notUnderstood = new ArrayList<>();
    private final List<SqlToken> seen = new ArrayList<>();
    private final Set<SqlToken> decided = new HashSet<>();

    Script(String sql, IntFunction<SourceLocation> places) {
      this.sql = sql;
      this.places = places;
    }

    private void note(SqlToken at, String reason) {
      notUnderstood.add(new NotUnderstood(places.apply(at.start()), reason));
    }

    /** What a routine or an unknown text does to rows cannot be told. */
    private void doubtRows(SqlToken at) {
      changes.add(RowStatements.anywhere(places.apply(at.start())));
    }

    void statement(GuardedStatement statement) {
      List<SqlToken> tokens = statement.tokens();
      SqlToken first = tokens.get(0);
      boolean transact = statementRules.separatorOptional().value();
      seen.addAll(tokens);
      if (isOpen(tokens.get(tokens.size() - 1))) {
        note(tokens.get(tokens.size() - 1), "a quote that opens here is not closed");
      }
      if (routines.defines(tokens)) {
        return;
      }
      if (mayCallAnything(tokens)) {
        doubtRows(first);
      }
      if (first.is("DO")) {
        block(statement);
      } else if (!transact && isBlock(tokens)) {
        procedure(statement);
      } else if (isExecution(first) && !isRenaming(tokens)) {
        execution(statement);
      } else if (first.is("PREPARE")) {
        prepared(first);
      } else {
        noteCall(tokens);
        plain(statement);
      }
    }

    private static boolean isOpen(SqlToken last) {
      String text = last.text();
      return last.kind() == SqlToken.Kind.STRING
          && text.startsWith("'")
          && (text.length() == 1 || !text.endsWith("'"));
    }

    /** Blocks, triggers, executed texts, and functions called for their effect. */
    private static boolean mayCallAnything(List<SqlToken> tokens) {
      SqlToken first = tokens.get(0);
      boolean call =
          first.is("SELECT")
              && tokens.stream().anyMatch(token -> token.is("("))
              && tokens.stream().noneMatch(token -> token.is("FROM"));
      boolean trigger =
          first.is("CREATE") && tokens.stream().limit(6).anyMatch(token -> token.is("TRIGGER"));
      return call || trigger || first.is("DO") || isBlock(tokens) || isExecution(first);
    }

    /**
     * Statements in a block that only a block can have touch no table; SELECT INTO is one of them,
     * it sets variables.
     */
    private void procedure(GuardedStatement block) {
      for (GuardedStatement inner : ProceduralBlock.statements(block.tokens())) {
        List<SqlToken> tokens = inner.tokens();
        if (StatementReader.startsStatement(tokens.get(0)) && !tokens.get(0).is("SELECT")) {
          statement(within(block, inner));
        } else {
          noteCall(tokens);
        }
      }
    }

    private void noteCall(List<SqlToken> tokens) {
      routines
          .changingCall(tokens)
          .ifPresent(
              routine ->
                  note(
                      tokens.get(0),
                      "call of " + routine + ", which changes tables: it is not run"));
    }

    private static boolean isBlock(List<SqlToken> tokens) {
      boolean only = tokens.size() > 1;
      return only
          && (tokens.get(0).is("DECLARE")
              || (tokens.get(0).is("BEGIN")
                  && !tokens.get(1).is("TRANSACTION")
                  && !tokens.get(1).is("WORK")));
    }

    private static boolean isExecution(SqlToken first) {
      return first.is("EXEC") || first.is("EXECUTE");
    }

    private static boolean isRenaming(List<SqlToken> tokens) {
      return tokens.stream().limit(6).anyMatch(token -> token.isName() && isRename(token));
    }

    private static boolean isRename(SqlToken token) {
      return token.text().equalsIgnoreCase("sp_rename");
    }

    /** What stands in a block counts only where the block itself runs for certain. */
    private static GuardedStatement within(GuardedStatement outer, GuardedStatement inner) {
      boolean own = outer.guard() == Guard.NONE || outer.guard() == Guard.CAUGHT;
      return own ? inner : new GuardedStatement(inner.tokens(), outer.guard(), outer.condition());
    }

    /** {@code DO $$ ... $$}, as PostgreSQL has it. */
    private void block(GuardedStatement statement) {
      statement.tokens().stream()
          .filter(token -> token.kind() == SqlToken.Kind.STRING)
          .findFirst()
          .ifPresent(text -> nested(text, statement));
    }

    private void nested(SqlToken string, GuardedStatement outer) {
      String text = DynamicSql.content(string.text());
      int start = string.start() + DynamicSql.contentStart(string.text());
      Script inner = new Script(text, offset -> places.apply(start + offset));
      for (GuardedStatement found :
          StatementSplitter.split(text, Optional.empty(), statementRules)) {
        inner.statement(within(outer, found));
      }
      changes.addAll(inner.changes);
      notUnderstood.addAll(inner.notUnderstood);
    }

    /** EXECUTE, EXECUTE IMMEDIATE and EXEC, of a text or of a routine. */
    private void execution(GuardedStatement statement) {
      List<SqlToken> tokens = statement.tokens();
      SqlToken first = tokens.get(0);
      Optional<SqlToken> literal = onlyLiteral(tokens);
      Optional<String> routine = routines.changingCall(tokens);
      if (literal.isPresent()) {
        SqlToken string = literal.get();
        String text = DynamicSql.content(string.text());
        Script inner = new Script(text, offset -> places.apply(string.start()));
        for (GuardedStatement found :
            StatementSplitter.split(text, Optional.empty(), statementRules)) {
          inner.statement(
              new GuardedStatement(found.tokens(), statement.guard(), statement.condition()));
        }
        changes.addAll(inner.changes);
        notUnderstood.addAll(inner.notUnderstood);
      } else if (routine.isPresent()) {
        note(first, "call of " + routine.get() + ", which changes tables: it is not run");
      } else if (isText(tokens) && DynamicSql.mayChangeTables(executed(tokens))) {
        note(first, "execute: a statement put together when it runs may change tables or indexes");
      }
    }

    /** The words of what is executed; where it stands in variables, all words so far. */
    private List<SqlToken> executed(List<SqlToken> tokens) {
      return tokens.stream().anyMatch(token -> token.kind() == SqlToken.Kind.STRING)
          ? tokens
          : seen;
    }

    /** True where a text is executed, and not a routine by its name. */
    private static boolean isText(List<SqlToken> tokens) {
      return !tokens.get(0).is("EXEC")
          || (tokens.size() > 1 && tokens.get(1).is("("))
          || tokens.stream().limit(6).anyMatch(token -> token.is("sp_executesql"));
    }

    /** The one string that is executed, where nothing is joined to it. */
    private static Optional<SqlToken> onlyLiteral(List<SqlToken> tokens) {
      List<SqlToken> rest =
          tokens.stream()
              .skip(1)
              .filter(
                  token ->
                      !token.is("IMMEDIATE")
                          && !token.is("(")
                          && !token.is(")")
                          && !token.is("N")
                          && !token.is("sys")
                          && !token.is(".")
                          && !token.is("sp_executesql"))
              .toList();
      return rest.size() == 1 && rest.get(0).kind() == SqlToken.Kind.STRING
          ? Optional.of(rest.get(0))
          : Optional.empty();
    }

    private void prepared(SqlToken first) {
      if (DynamicSql.mayChangeTables(seen)) {
        note(first, "prepare: a statement put together when it runs may change tables or indexes");
      }
    }

    private void plain(GuardedStatement statement) {
      StatementContext context = new StatementContext(parser, rules, statementRules, places);
      TokenCursor cursor = new TokenCursor(sql, statement.tokens());
      SourceLocation location = context.at(cursor);
      if (statement.guard() != Guard.NONE) {
        cursor.beLenient();
      }
      try {
        StatementReader.read(context, cursor, location);
        take(statement, context.result().changes(), location);
      } catch (UnreadableSqlException e) {
        context.note(location, "statement " + opening(statement.tokens()) + ": " + e.getMessage());
      }
      notUnderstood.addAll(context.result().notUnderstood());
    }

    private void take(
        GuardedStatement statement, List<SchemaChange> found, SourceLocation location) {
      if (found.isEmpty()) {
        return;
      }
      if (found.stream().allMatch(RowStatements::isAboutRows)) {
        found.forEach(
            change ->
                changes.add(
                    statement.guard() == Guard.NONE ? change : RowStatements.unknown(change)));
        return;
      }
      String what = "statement " + opening(statement.tokens());
      switch (statement.guard()) {
        case NONE, CAUGHT -> changes.addAll(found);
        case CONDITION -> {
          changes.addAll(found);
          if (!isDecided(statement)) {
            notUnderstood.add(
                new NotUnderstood(
                    location, what + ": a condition cannot be decided here; taken to hold"));
          }
        }
        case OTHERWISE -> leftOut(location, what + ": runs where a condition does not hold");
        case LOOP -> leftOut(location, what + ": runs in a loop");
        case HANDLER -> leftOut(location, what + ": runs where another statement fails");
      }
    }

    /** A condition that speaks of one statement's object decides about the others behind it. */
    private boolean isDecided(GuardedStatement statement) {
      List<SqlToken> condition = statement.condition();
      SqlToken last = condition.get(condition.size() - 1);
      if (statement.isGuardedByName()) {
        decided.add(last);
      }
      return decided.contains(last);
    }

    private void leftOut(SourceLocation location, String reason) {
      notUnderstood.add(new NotUnderstood(location, reason + "; left out"));
    }

    private static String opening(List<SqlToken> tokens) {
      List<String> words = tokens.stream().limit(4).map(SqlToken::text).toList();
      return String.join(" ", words);
    }
  }
}
