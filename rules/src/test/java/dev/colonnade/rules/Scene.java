package dev.colonnade.rules;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.ForeignKeyChecks;
import dev.colonnade.query.Query;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.jpql.SqlNames;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleSettings;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.change.SchemaFold;
import dev.colonnade.schema.sql.DdlReader;
import dev.colonnade.schema.sql.DdlResult;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;

/**
 * What a rule is shown: a schema as SQL, statements, statistics and settings. Immutable: each
 * method returns a scene with something more, so that a common beginning can be kept in a field.
 */
record Scene(
    Dialect dialect,
    String ddl,
    List<String> statements,
    int unreadable,
    Map<Identifier, TableStatistics> statistics,
    RuleSettings settings) {

  static final Scene EMPTY =
      new Scene(Dialects.postgresql(), "", List.of(), 0, Map.of(), RuleSettings.DEFAULT);

  Scene on(Dialect other) {
    return new Scene(other, ddl, statements, unreadable, statistics, settings);
  }

  Scene ddl(String more) {
    return new Scene(dialect, ddl + more + "\n", statements, unreadable, statistics, settings);
  }

  /** Adds statements, each ended by a semicolon but for the last. */
  Scene queries(String text) {
    List<String> all = new ArrayList<>(statements);
    for (String statement : text.split(";", -1)) {
      if (!statement.isBlank()) {
        all.add(statement.strip());
      }
    }
    return new Scene(dialect, ddl, List.copyOf(all), unreadable, statistics, settings);
  }

  /** Says that a query was found that could not be read. */
  Scene unreadableQuery() {
    return new Scene(dialect, ddl, statements, unreadable + 1, statistics, settings);
  }

  Scene rows(String table, double rows) {
    TableStatistics old = statistics.getOrDefault(Identifier.of(table), TableStatistics.UNKNOWN);
    return with(table, new TableStatistics(OptionalDouble.of(rows), old.rowWidth(), old.columns()));
  }

  Scene distinct(String table, String column, double values) {
    TableStatistics old = statistics.getOrDefault(Identifier.of(table), TableStatistics.UNKNOWN);
    Map<Identifier, ColumnStatistics> columns = new TreeMap<>(old.columns());
    columns.put(Identifier.of(column), ColumnStatistics.distinct(values));
    return with(table, new TableStatistics(old.rows(), old.rowWidth(), columns));
  }

  private Scene with(String table, TableStatistics changed) {
    Map<Identifier, TableStatistics> all = new TreeMap<>(statistics);
    all.put(Identifier.of(table), changed);
    return new Scene(dialect, ddl, statements, unreadable, all, settings);
  }

  Scene with(RuleSettings other) {
    return new Scene(dialect, ddl, statements, unreadable, statistics, other);
  }

  /** The schema that the SQL leads to; whatever is not understood fails the test. */
  Schema schema() {
    DdlResult read =
        new DdlReader(dialect)
            .read(
                ddl,
                Optional.empty(),
                offset -> SourceLocation.of("changelog.sql", lineOf(ddl, offset)));
    SchemaFold fold = new SchemaFold(dialect).applyAll(read.changes());
    if (!read.notUnderstood().isEmpty() || !fold.notUnderstood().isEmpty()) {
      throw new AssertionError(
          "the schema is not understood: " + read.notUnderstood() + fold.notUnderstood());
    }
    return fold.schema();
  }

  private static int lineOf(String text, int offset) {
    return 1 + (int) text.substring(0, offset).chars().filter(c -> c == '\n').count();
  }

  /** Everything worked out. */
  RuleContext context() {
    Schema schema = schema();
    StatementParser parser = new StatementParser(schema, dialect);
    AccessPathAnalyzer analyzer =
        new AccessPathAnalyzer(schema, dialect, new Statistics(statistics));
    List<QueryAccess> queries = new ArrayList<>();
    for (int i = 0; i < statements.size(); i++) {
      queries.add(analyzer.analyze(query(parser, statements.get(i), i + 1)));
    }
    ForeignKeyChecks.of(
            schema,
            queries.stream().map(QueryAccess::query).toList(),
            new SqlNames(dialect.shortName())::write)
        .forEach(check -> queries.add(analyzer.analyze(query(parser, check))));
    int written = statements.size();
    double share = written + unreadable == 0 ? 1 : (double) written / (written + unreadable);
    return new RuleContext(analyzer, queries, share, settings);
  }

  private static Query query(StatementParser parser, String sql, int number) {
    QueryText text =
        new QueryText(
            "queries.sql:" + number,
            SourceLocation.of("queries.sql", number),
            QuerySource.FILE,
            sql,
            sql);
    return query(parser, text);
  }

  private static Query query(StatementParser parser, QueryText text) {
    StatementReading reading = parser.parse(text);
    if (reading instanceof StatementReading.Analysed analysed) {
      return analysed.query();
    }
    throw new AssertionError("the query is not understood: " + reading);
  }
}
