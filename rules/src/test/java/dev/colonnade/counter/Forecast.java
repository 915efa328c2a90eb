package dev.colonnade.counter;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.FewestPages;
import dev.colonnade.access.TableAccess;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import java.util.Comparator;
import java.util.List;

/** What the analysis says about the queries, with statistics collected from the data. */
final class Forecast {
  private final StatementParser parser;
  private final AccessPathAnalyzer analyzer;

  Forecast(Dialect dialect, List<DataTable> tables) {
    Schema schema = new Schema(tables.stream().map(DataTable::model).toList(), List.of());
    this.parser = new StatementParser(schema, dialect);
    this.analyzer =
        new AccessPathAnalyzer(schema, dialect, CollectedStatistics.of(tables, dialect));
  }

  List<TableAccess> accesses(CountedQuery query) {
    String sql = query.sql();
    QueryText text =
        new QueryText("counted", SourceLocation.of("counted.sql"), QuerySource.FILE, sql, sql);
    StatementReading reading = parser.parse(text);
    if (reading instanceof StatementReading.Analysed analysed) {
      return analyzer.analyze(analysed.query()).tables();
    }
    throw new AssertionError(
        ((StatementReading.NotAnalysed) reading).query().reason() + ": " + sql);
  }

  /** The candidate of an index for a query of one table. */
  Candidate candidate(CountedQuery query, String index) {
    return accesses(query).get(0).candidates().stream()
        .filter(it -> it.index().orElseThrow().name().folded().equals(index))
        .findFirst()
        .orElseThrow();
  }

  /**
   * The indexes that are of use to a query of one table, the preferred one first: the one that is
   * taken or, where the table itself is read, the one that would be if it were not.
   */
  List<Candidate> useful(CountedQuery query) {
    TableAccess access = accesses(query).get(0);
    Comparator<Candidate> byCost = Comparator.comparingDouble(Candidate::cost);
    List<Candidate> useful =
        access.candidates().stream()
            .filter(it -> !it.isUnusable() && it.path() != AccessPath.FULL_INDEX_SCAN)
            .filter(it -> it.path() != AccessPath.SKIP_SCAN)
            .sorted(byCost)
            .toList();
    if (useful.isEmpty()) {
      return useful;
    }
    Candidate preferred =
        access.chosen().index().isPresent()
            ? access.chosen()
            : FewestPages.among(useful, useful.get(0), byCost);
    Comparator<Candidate> preferredFirst =
        Comparator.comparing(it -> !it.index().equals(preferred.index()));
    return useful.stream().sorted(preferredFirst.thenComparing(byCost)).toList();
  }

  /** True when an index is taken for a query of one table, not the table itself. */
  boolean isIndexTaken(CountedQuery query) {
    return accesses(query).get(0).chosen().index().isPresent();
  }

  /** Pages of an index of one of the tables. */
  double indexPages(DataTable table, String index) {
    Table model = analyzer.schema().table(Identifier.of(table.name())).orElseThrow();
    return model.indexes().stream()
        .filter(it -> it.name().folded().equals(index))
        .map(it -> analyzer.profile(model).index(it).totalPages())
        .findFirst()
        .orElseThrow();
  }

  double rows(TableAccess access) {
    return analyzer.profile(access.table()).rows().value();
  }
}
