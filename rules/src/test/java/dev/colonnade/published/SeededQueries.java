package dev.colonnade.published;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.Candidate;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import dev.colonnade.statistics.Statistics;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Keys and queries over {@code t(id, a, b, c, d, z)}, made up from a seed: comparisons, lists, NULL
 * tests and terms, with and without a wanted order.
 */
final class SeededQueries {
  private static final List<String> COLUMNS = List.of("a", "b", "c", "d");

  private final Random random;

  SeededQueries(long seed) {
    this.random = new Random(seed);
  }

  /**
   * A key and a query.
   *
   * @param key the key of the index {@code ix}
   * @param sql the query
   */
  record Case(String key, String sql) {
    /** What the tool says about the index. */
    Candidate predicted(Dialect dialect) {
      List<String> definitions =
          List.of("table t(id integer, a, b, c, d, z, primary key (id))", "index ix(" + key + ")");
      Schema schema = SchemaNotation.read(definitions, dialect);
      QueryText text = new QueryText("q", SourceLocation.of("q.sql"), QuerySource.FILE, sql, sql);
      StatementReading reading = new StatementParser(schema, dialect).parse(text);
      if (!(reading instanceof StatementReading.Analysed analysed)) {
        throw new AssertionError(sql + ": " + reading);
      }
      return new AccessPathAnalyzer(schema, dialect, Statistics.NONE)
          .analyze(analysed.query()).tables().get(0).candidates().stream()
              .filter(it -> it.index().orElseThrow().name().text().equals("ix"))
              .findFirst()
              .orElseThrow();
    }

    @Override
    public String toString() {
      return "(" + key + ") " + sql;
    }
  }

  /** The next case. */
  Case next() {
    List<String> columns = shuffled();
    return new Case(key(columns), query(columns));
  }

  private List<String> shuffled() {
    List<String> columns = new ArrayList<>(COLUMNS);
    Collections.shuffle(columns, random);
    return columns;
  }

  private String key(List<String> columns) {
    return columns.subList(0, 1 + random.nextInt(3)).stream()
        .map(column -> column + (random.nextInt(4) == 0 ? " desc" : ""))
        .collect(Collectors.joining(", "));
  }

  private String query(List<String> keyColumns) {
    String select = random.nextBoolean() ? "*" : keyColumns.get(random.nextInt(2));
    String where =
        IntStream.rangeClosed(0, random.nextInt(3))
            .mapToObj(i -> condition())
            .collect(Collectors.joining(" and "));
    String order = "";
    if (random.nextBoolean()) {
      List<String> columns = random.nextBoolean() ? keyColumns : shuffled();
      order =
          columns.subList(0, 1 + random.nextInt(2)).stream()
              .map(column -> column + (random.nextInt(3) == 0 ? " desc" : ""))
              .collect(Collectors.joining(", ", " order by ", ""));
    }
    return "select " + select + " from t where " + where + order;
  }

  private String condition() {
    String column = COLUMNS.get(random.nextInt(COLUMNS.size()));
    int value = random.nextInt(9);
    return switch (random.nextInt(11)) {
      case 0, 1 -> column + " = " + value;
      case 2 -> value + " = " + column;
      case 3 -> column + " < " + value;
      case 4 -> column + " >= " + value;
      case 5 -> column + " between 1 and " + (1 + value);
      case 6 -> column + " in (1, 2, 3)";
      case 7 -> column + " is null";
      case 8 -> column + " <> " + value;
      case 9 -> column + " + 1 = " + value;
      default -> "(" + column + " = 1 or " + column + " = 5)";
    };
  }
}
