package dev.colonnade.query.sql;

import dev.colonnade.dialect.BooleanRules;
import dev.colonnade.dialect.DerivedTableRules;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.JoinRules;
import dev.colonnade.dialect.JoinRules.ListOfExists;
import dev.colonnade.dialect.OuterJoinRules;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.OuterJoinReading;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.StatementKind;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.schema.Schema;
import dev.colonnade.sql.ParsedSql;
import dev.colonnade.sql.SqlParser;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.List;
import java.util.Optional;
import net.sf.jsqlparser.statement.Statement;
import net.sf.jsqlparser.statement.delete.Delete;
import net.sf.jsqlparser.statement.insert.Insert;
import net.sf.jsqlparser.statement.merge.Merge;
import net.sf.jsqlparser.statement.select.Select;
import net.sf.jsqlparser.statement.update.Update;
import net.sf.jsqlparser.statement.upsert.Upsert;

/**
 * Turns SQL text into queries over a schema. Every name is resolved; what is not understood leaves
 * the whole query unanalysed, with the reason.
 */
public final class StatementParser {
  /** Why a definition, a setting or a lock is not analysed: it has no access path. */
  public static final String NO_QUERY = "not a query or a change of rows";

  private final Schema schema;
  private final SqlParser parser;
  private final Names names;
  private final DerivedTableRules derivedTables;
  private final ListOfExists listOfExists;
  private final OuterJoinReading outerJoins;
  private final BooleanRules booleans;

  /** A parser of statements over that schema, as the database writes them. */
  public StatementParser(Schema schema, Dialect dialect) {
    this.schema = schema;
    this.parser = new SqlParser(dialect.shortName());
    this.names = new Names(dialect.shortName());
    this.derivedTables = DerivedTableRules.of(dialect);
    this.listOfExists = JoinRules.of(dialect).listOfExists().value();
    this.outerJoins = reading(OuterJoinRules.of(dialect));
    this.booleans = BooleanRules.of(dialect);
  }

  private static OuterJoinReading reading(OuterJoinRules rules) {
    return new OuterJoinReading(
        rules.byConditions().value(),
        rules.bySubqueries().value(),
        rules.byLaterJoins().value(),
        rules.reached().value());
  }

  /** Reads one text, which must be one statement. Never throws. */
  public StatementReading parse(QueryText text) {
    try {
      return new StatementReading.Analysed(read(text));
    } catch (UnreadableSqlException e) {
      return notAnalysed(text, reason(text, e));
    } catch (StackOverflowError e) {
      return notAnalysed(text, "SQL is nested too deeply");
    }
  }

  private static StatementReading notAnalysed(QueryText text, String reason) {
    return new StatementReading.NotAnalysed(new UnanalysedQuery(text, reason));
  }

  /** The reason, with the place in the file where it has one. */
  private static String reason(QueryText text, UnreadableSqlException e) {
    if (e.line() == 0) {
      return e.getMessage();
    }
    if (text.textLine().isEmpty()) {
      return e.getMessage() + " in line " + e.line() + " of its text";
    }
    int line = text.lineOfText(e.line()).line();
    // In a class the text is indented and quoted: its columns are not those of the file.
    return text.source() == QuerySource.FILE
        ? e.getMessage() + " at " + line + ":" + e.column()
        : e.getMessage() + " at line " + line;
  }

  private Query read(QueryText text) {
    ParsedSql parsed = parser.parse(text.sql());
    List<Statement> statements = parsed.statements();
    if (statements.isEmpty()) {
      throw new UnreadableSqlException("no statement");
    }
    if (statements.size() > 1) {
      throw new UnreadableSqlException(statements.size() + " statements in one text");
    }
    ReadingState state =
        new ReadingState(schema, parser, names, derivedTables, outerJoins, booleans, parsed);
    StatementKind kind = read(statements.get(0), state);
    List<QueryBlock> blocks = ExistsLists.read(state.blocks(), state.listsOfExists(), listOfExists);
    return new Query(text, kind, new PushedConditions(derivedTables, state.windows()).into(blocks));
  }

  private static StatementKind read(Statement statement, ReadingState state) {
    if (statement instanceof Select select) {
      new QueryReader(state)
          .read(select, Optional.empty(), BlockRole.MAIN, Optional.empty(), false);
      return StatementKind.SELECT;
    }
    ChangeReader changes = new ChangeReader(state);
    if (statement instanceof Insert insert) {
      changes.insert(insert);
      return StatementKind.INSERT;
    }
    if (statement instanceof Upsert upsert) {
      changes.upsert(upsert);
      return StatementKind.INSERT;
    }
    if (statement instanceof Update update) {
      changes.update(update);
      return StatementKind.UPDATE;
    }
    if (statement instanceof Delete delete) {
      changes.delete(delete);
      return StatementKind.DELETE;
    }
    if (statement instanceof Merge merge) {
      changes.merge(merge);
      return StatementKind.MERGE;
    }
    throw new UnreadableSqlException(NO_QUERY);
  }
}
