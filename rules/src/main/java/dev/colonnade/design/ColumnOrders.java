package dev.colonnade.design;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.Bound;
import dev.colonnade.access.Bound.Kind;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.Demand;
import dev.colonnade.access.TableAccess;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.IndexFeatures.Included;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.OrderItem;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.TableProfile;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The orders of columns worth comparing for one use of a table, each worked out as if the index
 * existed.
 *
 * <p>The two ideal orders are those of Lahdenmäki and Leach, Relational Database Index Design and
 * the Optimizers (2005), page 73: columns bound by equality, then the most selective range, then
 * the rest; or columns bound by equality, then the order asked for, then the rest. Each comes
 * narrow (search only) and holding all that the query needs. Beside them stand the same columns in
 * orders that people write by mistake, so that the difference is seen.
 */
public final class ColumnOrders {
  /** Most columns added only so that the index answers alone. */
  public static final int MOST_ADDED_COLUMNS = 4;

  /** Up to this many columns every order is compared. */
  private static final int EVERY_ORDER = 3;

  private final AccessPathAnalyzer analyzer;
  private final TableAccess access;
  private final Demand demand;
  private final Dialect dialect;
  private final TableProfile profile;

  private ColumnOrders(AccessPathAnalyzer analyzer, TableAccess access) {
    this.analyzer = analyzer;
    this.access = access;
    this.demand = access.demand();
    this.dialect = analyzer.dialect();
    this.profile = analyzer.profile(access.table());
  }

  /** The orders worth comparing, the cheapest to read first. */
  public static List<ColumnOrder> of(AccessPathAnalyzer analyzer, TableAccess access) {
    return new ColumnOrders(analyzer, access).compare();
  }

  /**
   * The order to take: the cheapest to read, unless a narrower one reads hardly more. Empty where
   * no index helps.
   */
  public static Optional<ColumnOrder> best(List<ColumnOrder> orders) {
    List<ColumnOrder> useful =
        orders.stream().filter(order -> !order.candidate().isUnusable()).toList();
    if (useful.isEmpty()) {
      return Optional.empty();
    }
    double enough = useful.get(0).candidate().cost() * HARDLY_MORE;
    return useful.stream()
        .filter(order -> order.candidate().cost() <= enough)
        .min(
            Comparator.comparingDouble(ColumnOrder::entryBytes)
                .thenComparingDouble(order -> order.candidate().cost()));
  }

  /** How much more may be read for the sake of a narrower index. */
  private static final double HARDLY_MORE = 1.25;

  private List<ColumnOrder> compare() {
    Map<String, Index> wanted = new LinkedHashMap<>();
    for (List<KeyColumn> key : searchKeys()) {
      add(wanted, key, List.of());
      List<Identifier> rest = missing(key);
      if (!demand.wholeRow() && isWorthAdding(key, rest)) {
        addCovering(wanted, key, rest);
      }
    }
    permutations().forEach(key -> add(wanted, key, List.of()));
    List<ColumnOrder> orders = new ArrayList<>();
    for (Index index : wanted.values()) {
      Candidate candidate = analyzer.evaluate(access, index);
      ColumnOrder order =
          new ColumnOrder(index, candidate, Optional.empty(), profile.index(index).entryBytes());
      orders.add(
          new ColumnOrder(
              index,
              candidate,
              access.table().indexes().stream().filter(order::sameColumns).findFirst(),
              order.entryBytes()));
    }
    orders.sort(
        Comparator.comparingDouble((ColumnOrder order) -> order.candidate().cost())
            .thenComparing(order -> -order.candidate().matching().size())
            .thenComparingDouble(ColumnOrder::entryBytes)
            .thenComparing(ColumnOrder::render));
    return List.copyOf(orders);
  }

  /** The narrow keys: equalities, then a range; equalities, then the order or the grouping. */
  private List<List<KeyColumn>> searchKeys() {
    List<KeyColumn> equal = new ArrayList<>();
    valuesOf(Kind.EQUALITY, Kind.IS_NULL).forEach(value -> equal.add(KeyColumn.of(value, false)));
    List<KeyColumn> listed = new ArrayList<>(equal);
    valuesOf(Kind.IN_LIST).forEach(value -> listed.add(KeyColumn.of(value, false)));
    List<List<KeyColumn>> keys = new ArrayList<>();
    List<Expression> ranges = valuesOf(Kind.CLOSED_RANGE, Kind.OPEN_RANGE, Kind.LIKE_PREFIX);
    if (!ranges.isEmpty()) {
      keys.add(with(listed, List.of(KeyColumn.of(ranges.get(0), false))));
    } else {
      keys.add(listed);
    }
    keys.add(with(equal, orderColumns()));
    keys.add(with(equal, groupingColumns()));
    keys.removeIf(List::isEmpty);
    return keys;
  }

  private static List<KeyColumn> with(List<KeyColumn> head, List<KeyColumn> tail) {
    Map<Expression, KeyColumn> key = new LinkedHashMap<>();
    head.forEach(part -> key.putIfAbsent(part.value(), part));
    tail.forEach(part -> key.putIfAbsent(part.value(), part));
    return List.copyOf(key.values());
  }

  /**
   * Values whose strongest bound is of one of the kinds, the most selective first. Expressions only
   * where the database can index them.
   */
  private List<Expression> valuesOf(Kind... kinds) {
    Map<Expression, Bound> strongest = new LinkedHashMap<>();
    demand.bounds().forEach(bound -> strongest.putIfAbsent(bound.value(), bound));
    Set<Kind> wanted = Set.of(kinds);
    return strongest.values().stream()
        .filter(bound -> wanted.contains(bound.kind()) && isIndexable(bound.value()))
        .sorted(
            Comparator.comparingDouble(
                    (Bound bound) -> profile.selectivity(bound.origins()).value())
                .thenComparing(bound -> bound.value().render()))
        .map(Bound::value)
        .toList();
  }

  private boolean isIndexable(Expression value) {
    if (value instanceof ColumnRef column) {
      return access
          .table()
          .column(column.column())
          .map(found -> isSearchable(found.type().family()))
          .orElse(false);
    }
    return dialect.features().expressions().value();
  }

  private static boolean isSearchable(TypeFamily family) {
    return family != TypeFamily.LARGE_OBJECT && family != TypeFamily.OTHER;
  }

  private List<KeyColumn> orderColumns() {
    List<KeyColumn> columns = new ArrayList<>();
    for (OrderItem item : demand.order()) {
      boolean own =
          !item.expression().columns().isEmpty()
              && item.expression().columns().stream()
                  .allMatch(column -> column.use() == ColumnRef.SELF)
              && isIndexable(item.expression());
      if (!own) {
        return List.of();
      }
      columns.add(KeyColumn.of(item.expression(), item.descending()));
    }
    boolean allDescending = columns.stream().allMatch(KeyColumn::descending);
    return allDescending && dialect.ordering().backward().value()
        ? columns.stream().map(part -> KeyColumn.of(part.value(), false)).toList()
        : columns;
  }

  private List<KeyColumn> groupingColumns() {
    boolean own =
        demand.grouping().stream()
            .allMatch(
                value ->
                    value.columns().stream().allMatch(column -> column.use() == ColumnRef.SELF)
                        && isIndexable(value));
    return own
        ? demand.grouping().stream().map(value -> KeyColumn.of(value, false)).toList()
        : List.of();
  }

  private List<Identifier> missing(List<KeyColumn> key) {
    Set<Identifier> missing = new LinkedHashSet<>(demand.neededColumns());
    key.forEach(part -> part.column().ifPresent(missing::remove));
    return List.copyOf(missing);
  }

  /** An index that holds all that is needed: not where that would be a copy of the table. */
  private boolean isWorthAdding(List<KeyColumn> key, List<Identifier> rest) {
    boolean copy =
        access.table().columns().size() > EVERY_ORDER
            && key.size() + rest.size() >= access.table().columns().size();
    return rest.size() <= MOST_ADDED_COLUMNS && !copy && rest.stream().allMatch(this::isNarrow);
  }

  private boolean isNarrow(Identifier column) {
    return access
        .table()
        .column(column)
        .map(found -> isSearchable(found.type().family()))
        .orElse(false);
  }

  private void addCovering(Map<String, Index> wanted, List<KeyColumn> key, List<Identifier> rest) {
    if (rest.isEmpty()) {
      return;
    }
    if (dialect.features().included().value() == Included.ANY) {
      add(wanted, key, rest);
    }
    List<KeyColumn> longer = new ArrayList<>(key);
    rest.forEach(column -> longer.add(KeyColumn.ascending(column.text())));
    add(wanted, longer, List.of());
  }

  /** Every order of the needed columns, where these are few. */
  private List<List<KeyColumn>> permutations() {
    List<Identifier> columns =
        demand.neededColumns().stream().filter(this::isNarrow).sorted().toList();
    List<List<KeyColumn>> result = new ArrayList<>();
    if (columns.size() == demand.neededColumns().size() && columns.size() <= EVERY_ORDER) {
      permute(List.of(), columns, result);
    }
    return result;
  }

  private static void permute(
      List<KeyColumn> head, List<Identifier> rest, List<List<KeyColumn>> result) {
    if (rest.isEmpty() && !head.isEmpty()) {
      result.add(head);
    }
    for (Identifier column : rest) {
      List<KeyColumn> longer = new ArrayList<>(head);
      longer.add(KeyColumn.ascending(column.text()));
      permute(longer, rest.stream().filter(other -> !other.equals(column)).toList(), result);
    }
  }

  private void add(Map<String, Index> wanted, List<KeyColumn> key, List<Identifier> included) {
    if (key.isEmpty() || key.size() > dialect.features().maxKeyColumns().value()) {
      return;
    }
    Identifier table = access.table().name();
    Index index =
        Index.of(
                IndexNaming.name(table, key, included),
                table.text(),
                false,
                key,
                access.table().location())
            .withIncluded(included);
    wanted.putIfAbsent(index.render(), index);
  }
}
