package dev.colonnade.access;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableProfile;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Works out the access path of every table of a query under every index.
 *
 * <p>Safe direction: when unsure, a predicate stays screening or residual; it is never claimed to
 * match. Not safe for use by several threads at once.
 */
public final class AccessPathAnalyzer {
  private final Schema schema;
  private final Dialect dialect;
  private final Statistics statistics;
  private final Map<Identifier, CandidateBuilder> builders = new HashMap<>();

  /** An analyzer for a schema on a database with these statistics. */
  public AccessPathAnalyzer(Schema schema, Dialect dialect, Statistics statistics) {
    this.schema = schema;
    this.dialect = dialect;
    this.statistics = statistics;
  }

  /** The schema whose indexes are candidates. */
  public Schema schema() {
    return schema;
  }

  /** The database. */
  public Dialect dialect() {
    return dialect;
  }

  /** What is known of the data. */
  public Statistics statistics() {
    return statistics;
  }

  /** The numbers of a table of the schema. */
  public TableProfile profile(Table table) {
    return new TableProfile(table, statistics.table(table.name()), dialect);
  }

  private CandidateBuilder builder(Table table) {
    return builders.computeIfAbsent(
        table.name(), name -> new CandidateBuilder(table, dialect, profile(table)));
  }

  /** How the query reads each of its tables. Tables that the schema lacks have no row. */
  public QueryAccess analyze(Query query) {
    List<TableAccess> result = new ArrayList<>();
    Map<Integer, Double> rowsOfBlock = new HashMap<>();
    for (QueryBlock block : query.blocks()) {
      analyzeBlock(query, block, rowsOfBlock, result);
    }
    result.sort(
        Comparator.comparingInt((TableAccess access) -> access.block().number())
            .thenComparingInt(TableAccess::joinPosition));
    return new QueryAccess(query, result);
  }

  private void analyzeBlock(
      Query query, QueryBlock block, Map<Integer, Double> rowsOfBlock, List<TableAccess> result) {
    DemandBuilder demands = new DemandBuilder(schema, dialect, query, block);
    List<FromItem> items =
        block.from().stream()
            .filter(item -> !(item instanceof TableUse use) || demands.table(use).isPresent())
            .toList();
    Map<Integer, Set<Integer>> connected = new HashMap<>();
    Map<Place, UseAnalysis> byPlace = new HashMap<>();
    Map<Asked, UseAnalysis> byDemand = new HashMap<>();
    List<FromItem> order =
        new JoinOrder(
                items,
                (use, read) -> {
                  Set<Integer> relevant =
                      new HashSet<>(
                          connected.computeIfAbsent(use.use(), it -> connected(block, it)));
                  relevant.retainAll(read);
                  boolean first = read.isEmpty();
                  return byPlace.computeIfAbsent(
                      new Place(use.use(), relevant, first),
                      place ->
                          byDemand.computeIfAbsent(
                              new Asked(use.use(), demands.build(use, read, first)),
                              asked -> analyzeUse(block, demands, use, asked.demand())));
                })
            .find();
    double executions =
        isCorrelated(block)
            ? block.parent().map(parent -> rowsOfBlock.getOrDefault(parent, 1.0)).orElse(1.0)
            : 1;
    double rows = 1;
    boolean decidesOrder = true;
    Set<Integer> read = new LinkedHashSet<>();
    for (int i = 0; i < order.size(); i++) {
      FromItem item = order.get(i);
      if (item instanceof TableUse use) {
        UseAnalysis found = analyzeUse(block, demands, use, demands.build(use, read, decidesOrder));
        result.add(access(block, use, demands, i + 1, read, found, executions, rows));
        double each = found.chosen().estimate().rows();
        rows *= use.nullSupplied() ? Math.max(1, each) : each;
        decidesOrder &= found.isSingleRow();
      } else {
        rows *= read.isEmpty() ? JoinOrder.DERIVED_ROWS : 1;
        decidesOrder = false;
      }
      read.add(item.use());
    }
    rowsOfBlock.put(block.number(), Math.max(1, executions * rows));
  }

  /**
   * How one use is read in a given place of the order of reading, such as a planner tells it: for
   * holding the two against each other.
   *
   * @param use a use of a table that the schema knows
   * @param read every use that is read before it; uses of the blocks around its own, or of
   *     subqueries of it, where those are joined with it
   * @param joined every use that is a member of the same join, before it or after
   */
  public Optional<TableAccess> accessAfter(
      Query query, int use, Set<Integer> read, Set<Integer> joined) {
    for (QueryBlock block : query.blocks()) {
      for (TableUse table : block.tables()) {
        if (table.use() == use) {
          DemandBuilder demands = DemandBuilder.placed(schema, dialect, query, block, read, joined);
          return demands.table(table).isEmpty()
              ? Optional.empty()
              : Optional.of(accessAfter(block, demands, table, read));
        }
      }
    }
    return Optional.empty();
  }

  private TableAccess accessAfter(
      QueryBlock block, DemandBuilder demands, TableUse use, Set<Integer> read) {
    Set<Integer> own = block.from().stream().map(FromItem::use).collect(Collectors.toSet());
    own.retainAll(read);
    boolean first = block.parent().isPresent() ? own.isEmpty() : read.isEmpty();
    UseAnalysis found = analyzeUse(block, demands, use, demands.build(use, read, first));
    return access(block, use, demands, own.size() + 1, read, found, 1, 1);
  }

  private TableAccess access(
      QueryBlock block,
      TableUse use,
      DemandBuilder demands,
      int position,
      Set<Integer> read,
      UseAnalysis found,
      double executions,
      double rows) {
    boolean once = !read.isEmpty() && JoinOrder.isReadOnce(found, rows);
    double times = once ? 1 : Math.max(1, rows);
    return new TableAccess(
        block,
        use,
        demands.table(use).orElseThrow(),
        position,
        List.copyOf(read),
        found.demand(),
        once ? found.wholeTable() : found.chosen(),
        found.candidates(),
        once ? List.of() : found.branches(),
        executions * times);
  }

  private UseAnalysis analyzeUse(
      QueryBlock block, DemandBuilder demands, TableUse use, Demand demand) {
    Table table = demands.table(use).orElseThrow();
    return UseAnalysis.of(
        block, use, table, dialect, builder(table), demands.extractor(use), demand);
  }

  /** A use of a table after others that share conditions with it; whether it is read first. */
  private record Place(int use, Set<Integer> read, boolean first) {}

  /** What is asked of a use, which is the same in many places. */
  private record Asked(int use, Demand demand) {}

  /** The uses that share a condition with the given one, directly or not. */
  private static Set<Integer> connected(QueryBlock block, int use) {
    List<Set<Integer>> conditions =
        block.conjuncts().stream()
            .map(
                conjunct ->
                    conjunct.predicate().columns().stream()
                        .map(ColumnRef::use)
                        .collect(Collectors.toSet()))
            .toList();
    Set<Integer> reached = new HashSet<>(Set.of(use));
    boolean grew = true;
    while (grew) {
      grew = false;
      for (Set<Integer> uses : conditions) {
        if (uses.stream().anyMatch(reached::contains)) {
          grew |= reached.addAll(uses);
        }
      }
    }
    return reached;
  }

  private static boolean isCorrelated(QueryBlock block) {
    Set<Integer> own = block.from().stream().map(FromItem::use).collect(Collectors.toSet());
    return block.conjuncts().stream()
        .flatMap(conjunct -> conjunct.predicate().columns().stream())
        .anyMatch(column -> !own.contains(column.use()));
  }

  /** What an index, real or thought of, would offer in the same place of the same join order. */
  public Candidate evaluate(TableAccess access, Index index) {
    return builder(access.table())
        .index(index, access.demand(), BlockTraits.of(access.block(), access.use().use()));
  }
}
