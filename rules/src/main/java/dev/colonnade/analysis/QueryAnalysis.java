package dev.colonnade.analysis;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.query.sql.StatementReading.Analysed;
import dev.colonnade.query.sql.StatementReading.NotAnalysed;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Works out the access paths of texts. A text that occurs several times is parsed once; one that
 * cannot be analysed, for whatever reason, becomes an entry and the others go on.
 */
final class QueryAnalysis {
  private final StatementParser parser;
  private final AccessPathAnalyzer analyzer;
  private final Map<String, QueryAccess> bySql = new HashMap<>();
  private final List<QueryAccess> analysed = new ArrayList<>();
  private final List<UnanalysedQuery> notAnalysed = new ArrayList<>();

  QueryAnalysis(StatementParser parser, AccessPathAnalyzer analyzer) {
    this.parser = parser;
    this.analyzer = analyzer;
  }

  /** Analyses one text. */
  void add(QueryText text) {
    QueryAccess known = bySql.get(text.sql());
    if (known != null) {
      analysed.add(inPlaceOf(known, text));
      return;
    }
    try {
      StatementReading reading = parser.parse(text);
      if (reading instanceof Analysed understood) {
        QueryAccess access = analyzer.analyze(understood.query());
        bySql.put(text.sql(), access);
        analysed.add(access);
      } else if (reading instanceof NotAnalysed not) {
        notAnalysed.add(not.query());
      }
    } catch (RuntimeException | StackOverflowError e) {
      notAnalysed.add(new UnanalysedQuery(text, unexpected(e)));
    }
  }

  private static QueryAccess inPlaceOf(QueryAccess known, QueryText text) {
    Query query = new Query(text, known.query().kind(), known.query().blocks());
    return new QueryAccess(query, known.tables());
  }

  /** The reason that a failure of our own gives: its kind, its message and where it arose. */
  static String unexpected(Throwable failure) {
    StackTraceElement[] trace = failure.getStackTrace();
    String where = trace.length == 0 ? "" : " in " + trace[0];
    String message = failure.getMessage() == null ? "" : ": " + failure.getMessage();
    return "unexpected " + failure.getClass().getSimpleName() + message + where;
  }

  /** Those that were analysed. */
  List<QueryAccess> analysed() {
    return analysed;
  }

  /** Those that were not. */
  List<UnanalysedQuery> notAnalysed() {
    return notAnalysed;
  }
}
