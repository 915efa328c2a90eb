package dev.colonnade.planner;

import dev.colonnade.access.Candidate;
import dev.colonnade.planner.BenchmarkResult.Comparison;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.Aggregate;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.DerivedUse;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * Puts the queries of a published workload to a planner, and compares each scan through an index
 * with our row for that table and index in the planner's own order of reading.
 */
final class BenchmarkRun {
  /** What a planner puts behind an alias that a query uses again. */
  static final String NUMBERED = "_\\d+$";

  private final EmbeddedPlanner planner;
  private final BenchmarkIndexes indexes;
  private final Prediction prediction;
  private final BenchmarkResult result;

  private BenchmarkRun(Benchmark benchmark, EmbeddedPlanner planner) throws SQLException {
    this.planner = planner;
    this.indexes = new BenchmarkIndexes(benchmark.tables());
    this.prediction = new Prediction(planner.dialect(), benchmark.tables());
    this.result =
        new BenchmarkResult(
            benchmark.name(),
            planner.version(),
            planner.dialect().shortName(),
            benchmark.queries().size());
  }

  static BenchmarkResult of(Benchmark benchmark, EmbeddedPlanner planner) throws SQLException {
    for (TestTable table : benchmark.tables()) {
      planner.create(table);
      for (TestTable.TestIndex index : table.indexes()) {
        planner.createIndex(index);
      }
      planner.analyze(table);
    }
    BenchmarkRun run = new BenchmarkRun(benchmark, planner);
    for (Map.Entry<String, String> query : benchmark.queries().entrySet()) {
      run.ask(query.getKey(), BenchmarkText.of(query.getValue(), planner.dialect().shortName()));
    }
    for (TestTable table : benchmark.tables()) {
      planner.drop(table);
    }
    return run.result;
  }

  private void ask(String name, String sql) {
    PlannedQuery planned;
    try {
      planned = planner.plan(sql, indexes);
    } catch (SQLException e) {
      result.refused(name, e);
      return;
    }
    result.countPlanned();
    Optional<Query> query = prediction.query(sql);
    if (query.isEmpty()) {
      result.notUnderstood(name);
      return;
    }
    for (PlannedScan scan : planned.scans()) {
      result.countScan();
      compare(query.get(), sql, planned, scan).ifPresent(it -> result.compared(name, it));
    }
  }

  /** Empty where the two cannot be compared. */
  private Optional<Comparison> compare(
      Query query, String sql, PlannedQuery planned, PlannedScan scan) {
    List<QueryBlock> blocks =
        query.blocks().stream().filter(it -> use(query, it, scan.alias()).isPresent()).toList();
    if (blocks.size() != 1 || isUnclear(query, scan.joined())) {
      return Optional.empty();
    }
    QueryBlock block = blocks.get(0);
    TableUse use = use(query, block, scan.alias()).orElseThrow();
    String index = indexes.find(scan.index(), use.table().text()).orElseThrow().name();
    Set<Integer> joined = uses(query, block, scan.joined());
    Optional<Boolean> inOrder = inOrder(query, sql, planned, scan);
    Optional<Comparison> last = Optional.empty();
    for (List<String> before : readings(query, scan)) {
      Set<Integer> read = withBlocksAround(query, block, uses(query, block, before), joined);
      Optional<Candidate> ours = prediction.candidate(query, use.use(), read, joined, index);
      if (ours.isEmpty()) {
        return Optional.empty();
      }
      Comparison comparison = comparison(query, block, use, planned, scan, inOrder, ours.get());
      if (comparison.differing().isEmpty()) {
        return Optional.of(comparison);
      }
      last = Optional.of(comparison);
    }
    return last;
  }

  private Comparison comparison(
      Query query,
      QueryBlock block,
      TableUse use,
      PlannedQuery planned,
      PlannedScan scan,
      Optional<Boolean> inOrder,
      Candidate ours) {
    List<String> matching = ours.matching().stream().map(Expression::render).toList();
    List<String> differing = new ArrayList<>();
    if (scan.matching().isPresent() && !scan.matching().get().equals(matching)) {
      differing.add("matching");
    }
    boolean rows = ours.index().filter(prediction::holdsRows).isPresent();
    if (!rows && scan.covering().isPresent() && scan.covering().get() != ours.covering()) {
      differing.add("covering");
    }
    if (inOrder.isPresent() && isTold(ours) && inOrder.get() != isServed(ours)) {
      differing.add("ordered");
    }
    return new Comparison(
        query,
        block,
        prediction.table(use),
        use.use(),
        query.text().sql(),
        planned.plan(),
        scan,
        inOrder,
        ours,
        matching,
        differing);
  }

  /** A single row needs no order. */
  private static boolean isTold(Candidate ours) {
    return ours.orderServed().isPresent() || ours.groupingServed().isPresent();
  }

  private static boolean isServed(Candidate ours) {
    return ours.orderServed().orElse(true) && ours.groupingServed().orElse(true);
  }

  /** Told of the table that is read first in a query of one block without windows. */
  private Optional<Boolean> inOrder(
      Query query, String sql, PlannedQuery planned, PlannedScan scan) {
    QueryBlock block = query.blocks().get(0);
    boolean plain =
        query.blocks().size() == 1
            && planned.first().equals(Optional.of(scan.alias()))
            && block.aggregates().stream().noneMatch(Aggregate::distinct)
            && !sql.matches("(?is).*\\b(over|rollup)\\b.*");
    return plain
        ? planner.inOrder(
            planned.plan(),
            block.distinct() || !block.groupBy().isEmpty(),
            !block.orderBy().isEmpty())
        : Optional.empty();
  }

  /**
   * What may be read before: where the plan numbers several tables of one alias, in an order of its
   * own, each of them may or may not be the one of the same block.
   */
  private static List<List<String>> readings(Query query, PlannedScan scan) {
    List<String> certain = new ArrayList<>();
    Set<String> open = new TreeSet<>();
    for (String alias : scan.readBefore()) {
      String base = unnumbered(query, alias);
      long times = scan.joined().stream().filter(it -> unnumbered(query, it).equals(base)).count();
      if (times == 1) {
        certain.add(alias);
      } else {
        open.add(base);
      }
    }
    List<List<String>> readings = new ArrayList<>(List.of(certain));
    for (String alias : open) {
      for (List<String> reading : List.copyOf(readings)) {
        List<String> longer = new ArrayList<>(reading);
        longer.add(alias);
        readings.add(longer);
      }
    }
    return readings;
  }

  /** The alias of the query that one of the plan stands for. */
  private static String unnumbered(Query query, String alias) {
    return isAlias(query, Identifier.of(alias)) ? alias : alias.replaceFirst(NUMBERED, "");
  }

  /**
   * The uses around a block are read before it, unless it is the list of an IN, worked out once.
   */
  private Set<Integer> withBlocksAround(
      Query query, QueryBlock block, Set<Integer> read, Set<Integer> joined) {
    Set<Integer> all = new LinkedHashSet<>(read);
    boolean once = block.role() == BlockRole.IN && !planner.dialect().shortName().equals("mariadb");
    for (Optional<Integer> up = once ? Optional.empty() : block.parent(); up.isPresent(); ) {
      QueryBlock around = query.blocks().get(up.get() - 1);
      around.tables().stream()
          .map(TableUse::use)
          .filter(it -> !joined.contains(it))
          .forEach(all::add);
      up = around.parent();
    }
    return all;
  }

  /** The use of a block that an alias stands for, or the name of a table that is used once. */
  private static Optional<TableUse> use(Query query, QueryBlock block, String alias) {
    Identifier wanted = Identifier.of(alias);
    return block.tables().stream()
        .filter(
            it ->
                Identifier.of(it.alias()).equals(wanted)
                    || (it.table().equals(wanted) && times(query, wanted) == 1))
        .findFirst();
  }

  /** True where a plan names a table that the query uses more than once under other names. */
  private boolean isUnclear(Query query, List<String> names) {
    return names.stream()
        .map(Identifier::of)
        .anyMatch(
            name -> times(query, name) > 1 && !(planner.tellsAliases() && isAlias(query, name)));
  }

  private static boolean isAlias(Query query, Identifier name) {
    return query.blocks().stream()
        .flatMap(block -> block.from().stream())
        .anyMatch(item -> Identifier.of(item.alias()).equals(name));
  }

  private static long times(Query query, Identifier table) {
    return query.blocks().stream()
        .flatMap(block -> block.tables().stream())
        .filter(use -> use.table().equals(table))
        .count();
  }

  /** The uses that aliases stand for; a derived table that the plan does not name, by its own. */
  private static Set<Integer> uses(Query query, QueryBlock own, List<String> aliases) {
    Set<Identifier> named = new HashSet<>();
    aliases.forEach(alias -> named.add(Identifier.of(unnumbered(query, alias))));
    aliases.forEach(alias -> named.add(Identifier.of(alias)));
    Set<Integer> uses = new LinkedHashSet<>();
    for (QueryBlock block : query.blocks()) {
      boolean below = isAround(query, own, block);
      boolean around = below || block.equals(own) || isAround(query, block, own);
      for (FromItem item : block.from()) {
        boolean inside =
            around
                && holds(query, block, item, named)
                && (!below || holds(query, own, item, named));
        boolean other =
            !block.equals(own)
                && own.from().stream().anyMatch(it -> isAlike(it, item))
                && times(query, aliases, item) == 1;
        if (!other && (inside || isNamed(query, item, named))) {
          uses.add(item.use());
        }
      }
    }
    return uses;
  }

  private static boolean isAround(Query query, QueryBlock block, QueryBlock own) {
    return own.parent()
        .map(up -> query.blocks().get(up - 1))
        .filter(up -> up.equals(block) || isAround(query, block, up))
        .isPresent();
  }

  /** True where one of the names is that of a table within a derived one, and no other's. */
  private static boolean holds(
      Query query, QueryBlock block, FromItem item, Set<Identifier> named) {
    return item instanceof DerivedUse derived
        && derived.block().isPresent()
        && query.blocks().get(derived.block().get() - 1).from().stream()
            .filter(it -> block.from().stream().noneMatch(other -> isAlike(other, it)))
            .anyMatch(it -> isNamed(query, it, named) || holds(query, block, it, named));
  }

  /** How many tables of the plan have the alias, numbered or not. */
  private static long times(Query query, List<String> aliases, FromItem item) {
    return aliases.stream()
        .map(it -> Identifier.of(unnumbered(query, it)))
        .filter(Identifier.of(item.alias())::equals)
        .count();
  }

  private static boolean isAlike(FromItem one, FromItem other) {
    return Identifier.of(one.alias()).equals(Identifier.of(other.alias()));
  }

  private static boolean isNamed(Query query, FromItem item, Set<Identifier> names) {
    return names.contains(Identifier.of(item.alias()))
        || (item instanceof DerivedUse derived
            && derived.block().isEmpty()
            && names.contains(Identifier.of(PlannedQuery.VALUES)))
        || (item instanceof TableUse use
            && names.contains(use.table())
            && times(query, use.table()) == 1);
  }
}
