package dev.colonnade.query.sql;

import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Not;
import dev.colonnade.predicate.Predicate.OpaquePredicate;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.query.Aggregate;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.DerivedUse;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.JoinTree;
import dev.colonnade.query.Joins;
import dev.colonnade.query.Limit;
import dev.colonnade.query.OrderItem;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.sql.ExpressionContext;
import dev.colonnade.sql.ExpressionReader;
import dev.colonnade.sql.Subquery;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.UnaryOperator;
import net.sf.jsqlparser.statement.select.Select;

/** A block while it is read. */
final class BlockBuilder implements ExpressionContext {
  private final ReadingState state;
  private final int number;
  private final Optional<Integer> parent;
  private final BlockRole role;
  private final Scope scope;
  private final ExpressionReader reader;
  private final IdentityHashMap<Select, Subquery> subqueries = new IdentityHashMap<>();
  private final List<FromItem> from = new ArrayList<>();
  private final Map<Integer, Set<Integer>> lateral = new TreeMap<>();
  private final List<JoinTree> trees = new ArrayList<>();
  private final Set<Predicate> where = new LinkedHashSet<>();
  private final Set<Aggregate> aggregates = new LinkedHashSet<>();
  private final List<Expression> projection = new ArrayList<>();
  private final List<Expression> groupBy = new ArrayList<>();
  private final List<OrderItem> orderBy = new ArrayList<>();
  private int aggregateCalls;
  private boolean distinct;
  private boolean missing;
  private Optional<Limit> limit = Optional.empty();

  BlockBuilder(
      ReadingState state, int number, Optional<Integer> parent, BlockRole role, Scope scope) {
    this.state = state;
    this.number = number;
    this.parent = parent;
    this.role = role;
    this.scope = scope;
    this.reader = new ExpressionReader(this);
  }

  /**
   * The reading of a derived table that becomes part of this block.
   *
   * @param guestScope the names that the derived table sees
   * @param canBeMissing true on the inner side of an outer join
   */
  BlockBuilder guest(Scope guestScope, boolean canBeMissing) {
    BlockBuilder guest = new BlockBuilder(state, number, parent, role, guestScope);
    guest.missing = canBeMissing;
    guest.distinct = distinct;
    return guest;
  }

  /** Takes over what a derived table reads; its joins become a part of this block's. */
  JoinTree absorb(BlockBuilder guest) {
    from.addAll(guest.from);
    lateral.putAll(guest.lateral);
    guest.scope.columns().forEach(scope::note);
    JoinTree tree = JoinTree.cross(guest.trees);
    return guest.where.isEmpty() ? tree : new JoinTree.Filtered(tree, List.copyOf(guest.where));
  }

  /** True for a derived table on the inner side of an outer join. */
  boolean canBeMissing() {
    return missing;
  }

  /** Takes note of a window function, or of a DISTINCT ON, by what it tells rows apart. */
  void window(Set<Expression> partition) {
    state.window(number, partition);
  }

  ReadingState state() {
    return state;
  }

  int number() {
    return number;
  }

  Scope scope() {
    return scope;
  }

  /** Reads expressions that stand in this block. */
  ExpressionReader reader() {
    return reader;
  }

  void add(FromItem item) {
    from.add(item);
  }

  List<FromItem> from() {
    return from;
  }

  /** Says that the item can only be read after others of the block. */
  void follows(int use, Set<Integer> before) {
    lateral.put(use, before);
  }

  /** Adds items to the FROM clause, in an inner join with those that are there. */
  void join(JoinTree tree) {
    trees.add(tree);
  }

  /** Puts other joins in place of those that are there. */
  void replaceJoins(UnaryOperator<JoinTree> change) {
    if (!trees.isEmpty()) {
      JoinTree changed = change.apply(JoinTree.cross(trees));
      trees.clear();
      trees.add(changed);
    }
  }

  /** Adds a condition that every row must satisfy. */
  void where(Predicate condition) {
    where.addAll(Conditions.conjuncts(condition));
  }

  void removeCondition(Predicate conjunct) {
    where.remove(conjunct);
  }

  List<Predicate> conditions() {
    return List.copyOf(where);
  }

  List<Expression> projection() {
    return projection;
  }

  /** How many aggregate calls were read, repeated ones included. */
  int aggregateCalls() {
    return aggregateCalls;
  }

  List<Expression> groupBy() {
    return groupBy;
  }

  List<OrderItem> orderBy() {
    return orderBy;
  }

  void distinct() {
    distinct = true;
  }

  /** True where the rows of the query around are made distinct. */
  boolean isDistinct() {
    return distinct;
  }

  void limit(Optional<Limit> rows) {
    limit = rows;
  }

  Optional<Limit> limit() {
    return limit;
  }

  @Override
  public Expression column(Optional<Identifier> qualifier, Identifier name) {
    return scope
        .find(qualifier, name)
        .orElseGet(() -> state.names().other(scope, state.schema(), qualifier, name));
  }

  @Override
  public Subquery subquery(Select select, SubqueryKind kind) {
    Subquery known = subqueries.get(select);
    if (known == null) {
      BlockRole below =
          switch (kind) {
            case EXISTS -> BlockRole.EXISTS;
            case IN -> BlockRole.IN;
            case SCALAR -> BlockRole.SCALAR;
          };
      QueryReader.Result result =
          new QueryReader(state).read(select, Optional.of(number), below, Optional.of(scope), true);
      known = new Subquery(result.block(), result.outer());
      subqueries.put(select, known);
    }
    return known;
  }

  @Override
  public void aggregate(String function, List<Expression> arguments, boolean isDistinct) {
    aggregateCalls++;
    aggregates.add(new Aggregate(function, arguments, isDistinct));
  }

  /** A comparison under NOT bounds nothing where the database leaves it there. */
  @Override
  public Predicate negated(Predicate condition) {
    return compares(condition) && !state.booleans().negationTakenIn().value()
        ? new Not(
            new OpaquePredicate(condition.render(), condition.columns(), "a comparison under NOT"))
        : new Not(condition);
  }

  private static boolean compares(Predicate condition) {
    if (condition instanceof And and) {
      return and.parts().stream().allMatch(BlockBuilder::compares);
    }
    return condition instanceof Comparison
        || (condition instanceof Or or && or.parts().stream().allMatch(BlockBuilder::compares));
  }

  @Override
  public String placeholder(String parsed) {
    return state.placeholder(parsed);
  }

  /** Marks tables as changed or locked. */
  void needWholeRow(Set<Integer> uses) {
    from.replaceAll(
        item ->
            item instanceof TableUse table && uses.contains(table.use())
                ? new TableUse(
                    table.use(),
                    table.table(),
                    table.alias(),
                    table.nullSupplied(),
                    table.after(),
                    true)
                : item);
  }

  /** The uses of tables. */
  Set<Integer> tableUses() {
    Set<Integer> uses = new HashSet<>();
    from.stream().filter(TableUse.class::isInstance).forEach(item -> uses.add(item.use()));
    return uses;
  }

  /** Ends the block. */
  void finish() {
    List<Predicate> conditions = List.copyOf(where);
    Joins joins =
        trees.isEmpty()
            ? Joins.none(conditions)
            : Joins.of(JoinTree.cross(trees), conditions, state.outerJoins());
    Set<ColumnRef> columns = scope.columns();
    state.finished(
        new QueryBlock(
            number,
            parent,
            role,
            from.stream().map(item -> placed(item, joins)).toList(),
            joins.conjuncts(),
            projection,
            List.copyOf(aggregates),
            groupBy,
            distinct,
            orderBy,
            limit,
            columns));
  }

  private FromItem placed(FromItem item, Joins joins) {
    boolean nullSupplied = joins.nullSupplied().contains(item.use());
    Set<Integer> after = new LinkedHashSet<>(joins.after().getOrDefault(item.use(), Set.of()));
    after.addAll(lateral.getOrDefault(item.use(), Set.of()));
    if (item instanceof TableUse table) {
      return new TableUse(
          table.use(), table.table(), table.alias(), nullSupplied, after, table.wholeRow());
    }
    DerivedUse derived = (DerivedUse) item;
    return new DerivedUse(
        derived.use(), derived.block(), derived.alias(), nullSupplied, after, derived.columns());
  }
}
