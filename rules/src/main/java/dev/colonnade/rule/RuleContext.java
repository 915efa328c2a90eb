package dev.colonnade.rule;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Fingerprint;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.Query;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Statistics;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * The only door through which a rule sees the world: schema, database, statistics, every query's
 * access paths, and what these would be with another set of indexes. Immutable.
 */
public final class RuleContext {
  private final AccessPathAnalyzer analyzer;
  private final List<QueryAccess> queries;
  private final double shareUnderstood;
  private final RuleSettings settings;

  /** By table, the places in the list of the queries that read it, ascending. */
  private final Map<Identifier, List<Integer>> readers;

  /**
   * A context.
   *
   * @param queries every query that was understood; one with several texts is there with each
   * @param shareUnderstood share of the queries that somebody wrote that were understood, 0 to 1
   */
  public RuleContext(
      AccessPathAnalyzer analyzer,
      List<QueryAccess> queries,
      double shareUnderstood,
      RuleSettings settings) {
    this(analyzer, queries, shareUnderstood, settings, readers(queries));
    if (!(shareUnderstood >= 0 && shareUnderstood <= 1)) {
      throw new IllegalArgumentException("no share: " + shareUnderstood);
    }
  }

  private RuleContext(
      AccessPathAnalyzer analyzer,
      List<QueryAccess> queries,
      double shareUnderstood,
      RuleSettings settings,
      Map<Identifier, List<Integer>> readers) {
    this.analyzer = analyzer;
    this.queries = List.copyOf(queries);
    this.shareUnderstood = shareUnderstood;
    this.settings = settings;
    this.readers = readers;
  }

  private static Map<Identifier, List<Integer>> readers(List<QueryAccess> queries) {
    Map<Identifier, List<Integer>> readers = new HashMap<>();
    for (int i = 0; i < queries.size(); i++) {
      int place = i;
      queries.get(i).tables().stream()
          .map(access -> access.table().name())
          .distinct()
          .forEach(table -> readers.computeIfAbsent(table, it -> new ArrayList<>()).add(place));
    }
    return readers;
  }

  /** The schema. */
  public Schema schema() {
    return analyzer.schema();
  }

  /** The database. */
  public Dialect dialect() {
    return analyzer.dialect();
  }

  /** What is known of the data. */
  public Statistics statistics() {
    return analyzer.statistics();
  }

  /** What works out access paths, for the design of indexes. */
  public AccessPathAnalyzer analyzer() {
    return analyzer;
  }

  /** Every query that was understood. */
  public List<QueryAccess> queries() {
    return queries;
  }

  /**
   * Share of the queries that somebody wrote that were understood, 0 to 1. Below 1, what no query
   * is seen to do may be done by one that was not understood.
   */
  public double shareUnderstood() {
    return shareUnderstood;
  }

  /** What an index, real or thought of, would offer in the place of this table use. */
  public Candidate evaluate(TableAccess access, Index index) {
    return analyzer.evaluate(access, index);
  }

  /** The same world with one table changed: queries that read it are analysed anew. */
  public RuleContext with(Table changed) {
    AccessPathAnalyzer other =
        new AccessPathAnalyzer(schema().with(changed), dialect(), statistics());
    List<QueryAccess> analysed = new ArrayList<>(queries);
    readersOf(changed)
        .forEach(place -> analysed.set(place, other.analyze(queries.get(place).query())));
    return new RuleContext(other, analysed, shareUnderstood, settings, readers);
  }

  /** How one query would be read with one table changed. */
  public QueryAccess analyzeWith(QueryAccess query, Table changed) {
    return new AccessPathAnalyzer(schema().with(changed), dialect(), statistics())
        .analyze(query.query());
  }

  /** How a query would be read that is written differently. */
  public QueryAccess analyze(Query query) {
    return analyzer.analyze(query);
  }

  private List<Integer> readersOf(Table table) {
    return readers.getOrDefault(table.name(), List.of());
  }

  /** Every use of a table, by query. */
  public List<IndexUse> usesOf(Table table) {
    List<IndexUse> uses = new ArrayList<>();
    for (int place : readersOf(table)) {
      QueryAccess query = queries.get(place);
      for (TableAccess access : query.tables()) {
        if (access.table().name().equals(table.name())) {
          uses.add(new IndexUse(query, access, access.chosen()));
        }
      }
    }
    return uses;
  }

  /** The queries whose chosen way reads this index. */
  public List<IndexUse> usesOf(Table table, Index index) {
    return usesOf(table).stream()
        .flatMap(
            use ->
                Stream.concat(Stream.of(use.candidate()), use.access().branches().stream())
                    .filter(candidate -> reads(candidate, index))
                    .map(candidate -> new IndexUse(use.query(), use.access(), candidate)))
        .toList();
  }

  private static boolean reads(Candidate candidate, Index index) {
    return !candidate.isUnusable()
        && candidate.index().map(Index::name).filter(index.name()::equals).isPresent();
  }

  /** The value of a rule's option. */
  public <T extends Number & Comparable<T>> T option(RuleMetadata rule, RuleOption<T> option) {
    return settings.option(rule, option);
  }

  /** What is configured. */
  public RuleSettings settings() {
    return settings;
  }

  /** Starts a finding about a query's use of a table. */
  public Finding.Builder finding(
      RuleMetadata rule, QueryAccess query, TableAccess access, Collection<Identifier> columns) {
    Identifier table = access.table().name();
    return new Finding.Builder(
        rule.id(),
        settings.severity(rule),
        query.query().location(),
        Optional.of(query.query().id()),
        table,
        Fingerprint.ofQuery(rule.id(), query.query(), table, columns));
  }

  /** Starts a finding about an index. */
  public Finding.Builder finding(RuleMetadata rule, Index index) {
    List<Identifier> columns =
        index.keyColumns().stream()
            .map(key -> key.column().orElseGet(() -> new Identifier(key.value().render())))
            .toList();
    return new Finding.Builder(
        rule.id(),
        settings.severity(rule),
        index.location(),
        Optional.empty(),
        index.table(),
        Fingerprint.ofIndex(rule.id(), index.name(), index.table(), columns));
  }

  /** Starts a finding about a foreign key. */
  public Finding.Builder finding(RuleMetadata rule, Table table, ForeignKey key) {
    return new Finding.Builder(
        rule.id(),
        settings.severity(rule),
        key.location(),
        Optional.empty(),
        table.name(),
        Fingerprint.ofForeignKey(rule.id(), table.name(), key.columns()));
  }
}
