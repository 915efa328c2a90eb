package dev.colonnade.access;

import dev.colonnade.dialect.ComparisonRules;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.IndexFeatures.PredicateCover;
import dev.colonnade.dialect.JoinRules;
import dev.colonnade.dialect.ListRules;
import dev.colonnade.dialect.ListRules.SingleValue;
import dev.colonnade.dialect.Matching.Carried;
import dev.colonnade.dialect.OrRules;
import dev.colonnade.dialect.SortRules;
import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.TruthTest;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.OrderItem;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Works out what a use of a table asks of an index once certain other tables have been read. */
final class DemandBuilder {
  private final Dialect dialect;
  private final Query query;
  private final QueryBlock block;
  private final Set<Integer> blockUses;
  private final List<Conjunct> conjuncts;
  private final EquivalenceClasses classes;
  private final Map<Integer, Table> tables = new HashMap<>();

  DemandBuilder(Schema schema, Dialect dialect, Query query, QueryBlock block) {
    this(schema, dialect, query, block, block.conjuncts(), ownUses(block));
  }

  private DemandBuilder(
      Schema schema,
      Dialect dialect,
      Query query,
      QueryBlock block,
      List<Conjunct> conjuncts,
      Set<Integer> blockUses) {
    this.dialect = dialect;
    this.query = query;
    this.block = block;
    SingleValue single = ListRules.of(dialect).singleValue().value();
    List<Conjunct> plain =
        CommonFactors.takenOut(conjuncts, OrRules.of(dialect)).stream()
            .map(it -> withSingleValue(it, single))
            .toList();
    this.conjuncts =
        JoinRules.of(dialect).carriesFromLater().value()
            ? LaterTables.carried(plain, block.from())
            : plain;
    this.blockUses = blockUses;
    for (QueryBlock any : query.blocks()) {
      for (TableUse use : any.tables()) {
        schema.table(use.table()).ifPresent(table -> tables.put(use.use(), table));
      }
    }
    this.classes =
        EquivalenceClasses.of(this.conjuncts, blockUses, this::ofOneType, equatesOwnColumns());
  }

  /** The condition with the equality in place of a list of one value, where it is taken for one. */
  private static Conjunct withSingleValue(Conjunct conjunct, SingleValue rule) {
    return SingleValues.equality(conjunct.predicate(), rule)
        .map(it -> new Conjunct(it, conjunct.restricts()))
        .orElse(conjunct);
  }

  /**
   * A builder for a planner's own order of reading, in which the subqueries of the block, or the
   * blocks around it, may be members of one join.
   *
   * @param read every use that is read before, of whichever block
   * @param joined uses of subqueries that are members of the same join
   */
  static DemandBuilder placed(
      Schema schema,
      Dialect dialect,
      Query query,
      QueryBlock block,
      Set<Integer> read,
      Set<Integer> joined) {
    SemiJoins semiJoins = new SemiJoins(query, JoinRules.of(dialect).carriesFromSubquery().value());
    Set<Integer> uses = new LinkedHashSet<>(ownUses(block));
    uses.addAll(semiJoins.usesAround(block));
    uses.addAll(read);
    uses.addAll(joined);
    return new DemandBuilder(
        schema, dialect, query, block, semiJoins.conjuncts(block, read, joined), uses);
  }

  private static Set<Integer> ownUses(QueryBlock block) {
    return block.from().stream().map(FromItem::use).collect(Collectors.toSet());
  }

  private boolean equatesOwnColumns() {
    return JoinRules.of(dialect).equatesOwnColumns().value() && carried() != Carried.NOTHING;
  }

  private boolean ofOneType(ColumnRef left, ColumnRef right) {
    Optional<TypeFamily> one = family(left);
    Optional<TypeFamily> other = family(right);
    return one.isEmpty()
        || other.isEmpty()
        || one.get() == other.get()
        || (one.get().isNumeric() && other.get().isNumeric());
  }

  private Optional<TypeFamily> family(ColumnRef column) {
    return column(column).map(Column::type).map(type -> type.family());
  }

  private Optional<Column> column(ColumnRef column) {
    return Optional.ofNullable(tables.get(column.use()))
        .flatMap(table -> table.column(column.column()));
  }

  /** The table behind a use of the block. */
  Optional<Table> table(TableUse use) {
    return Optional.ofNullable(tables.get(use.use()));
  }

  /**
   * The demand of one use.
   *
   * @param read uses of the block that are read before it
   * @param decidesOrder true when the rows of the block come in the order in which this table is
   *     read
   */
  Demand build(TableUse use, Set<Integer> read, boolean decidesOrder) {
    int self = use.use();
    Set<Predicate> conditions = new LinkedHashSet<>();
    Set<Predicate> implied = new LinkedHashSet<>();
    Set<Identifier> output = new LinkedHashSet<>(OutputColumns.of(query, block, self));
    for (Conjunct conjunct : conjuncts) {
      Set<ColumnRef> columns = conjunct.predicate().columns();
      if (columns.stream().noneMatch(column -> column.use() == self)) {
        continue;
      }
      boolean decidable =
          conjunct.restricts().contains(self)
              && columns.stream().allMatch(column -> column.use() == self || isRead(column, read));
      if (!decidable) {
        columns.stream().filter(c -> c.use() == self).forEach(c -> output.add(c.column()));
        implied.addAll(ofOr(conjunct, self));
      } else if (classes.absorbs(conjunct)) {
        joined(conjunct, self).forEach(output::add);
      } else {
        conditions.add(Conditions.map(conjunct.predicate(), column -> toSelf(column, self)));
      }
    }
    addEqualities(self, read, conditions);
    List<Predicate> sorted = sorted(conditions);
    boolean correlated =
        sorted.stream()
            .flatMap(condition -> condition.columns().stream())
            .anyMatch(column -> !Operands.isSelf(column));
    return new Demand(
        extractor(use)
            .extract(
                Stream.concat(withCarried(self, read, sorted).stream(), sorted(implied).stream())
                    .toList()),
        sorted,
        inTableOrder(tables.get(self), block.columnsOf(self)),
        output,
        use.wholeRow(),
        decidesOrder ? order(self) : List.of(),
        decidesOrder ? grouping(self) : List.of(),
        correlated || !read.isEmpty(),
        decidesOrder
            ? new SingleRows(block, conjuncts, tables, classes, blockUses).followers(self)
            : Set.of(),
        conjuncts.size());
  }

  private static List<Predicate> sorted(Set<Predicate> conditions) {
    return conditions.stream().sorted(Comparator.comparing(Predicate::render)).toList();
  }

  /** What an OR over this table and such that are read later asks of this one already. */
  private List<Predicate> ofOr(Conjunct conjunct, int self) {
    return OrRules.of(dialect).boundsEachTable().value() && conjunct.restricts().contains(self)
        ? CommonFactors.ofTable(conjunct.predicate(), self).stream()
            .map(it -> Conditions.map(it, column -> toSelf(column, self)))
            .toList()
        : List.of();
  }

  /** Columns that are compared with those of other tables, where their rows are asked for them. */
  private Stream<Identifier> joined(Conjunct conjunct, int self) {
    Set<ColumnRef> columns = conjunct.predicate().columns();
    boolean read =
        dialect.features().predicateCovers().value() == PredicateCover.ALL
            && columns.stream().anyMatch(column -> column.use() != self);
    return columns.stream().filter(column -> read && column.use() == self).map(ColumnRef::column);
  }

  /**
   * The columns in the order in which the table declares them, so that a query's wording is moot.
   */
  private static Set<Identifier> inTableOrder(Table table, Set<Identifier> columns) {
    Set<Identifier> result = new LinkedHashSet<>();
    table.columns().stream().map(Column::name).filter(columns::contains).forEach(result::add);
    result.addAll(columns);
    return result;
  }

  /** Reads bounds from conditions as seen from a use. */
  BoundExtractor extractor(TableUse use) {
    return new BoundExtractor(
        new Operands(
            tables.get(use.use()), this::column, new Conversions(ComparisonRules.of(dialect))),
        dialect);
  }

  private boolean isRead(ColumnRef column, Set<Integer> read) {
    return read.contains(column.use()) || !blockUses.contains(column.use());
  }

  private void addEqualities(int self, Set<Integer> read, Set<Predicate> conditions) {
    List<ColumnRef> unbound = new ArrayList<>();
    for (ColumnRef column : classes.columnsOf(self)) {
      Optional<Expression> source =
          classes.source(column, other -> isRead(other, read), carried() != Carried.NOTHING);
      if (source.isPresent()) {
        conditions.add(
            new Comparison(toSelf(column, self), ComparisonOperator.EQUAL, source.get()));
      } else {
        unbound.stream()
            .filter(other -> classes.areEqual(other, column))
            .findFirst()
            .ifPresent(
                other ->
                    conditions.add(
                        new Comparison(
                            toSelf(other, self), ComparisonOperator.EQUAL, toSelf(column, self))));
        unbound.add(column);
      }
    }
  }

  private Carried carried() {
    boolean outer = block.from().stream().anyMatch(FromItem::nullSupplied);
    if (outer && !JoinRules.of(dialect).carriesBesideOuterJoin().value()) {
      return Carried.NOTHING;
    }
    Carried carried = dialect.matching().carried().value();
    if (carried != Carried.VALUES_OF_PAIR) {
      return carried;
    }
    return conjuncts.size() == 2 ? Carried.VALUES : Carried.NOTHING;
  }

  /**
   * The conditions, and those on columns of other tables that hold of an equal column of this one.
   * They bound a scan; they say nothing new of the rows.
   */
  private List<Predicate> withCarried(int self, Set<Integer> read, List<Predicate> conditions) {
    if (carried() == Carried.NOTHING) {
      return withEveryEquality(self, read, conditions);
    }
    if (carried() == Carried.VALUES) {
      return conditions;
    }
    Set<Predicate> all = new LinkedHashSet<>(conditions);
    for (Conjunct conjunct : conjuncts) {
      Set<ColumnRef> columns = conjunct.predicate().columns();
      boolean carries =
          columns.size() == 1
              && isCarried(conjunct.predicate())
              && conjunct.restricts().contains(columns.iterator().next().use());
      if (carries && columns.iterator().next().use() != self) {
        classes.columnsOf(self).stream()
            .filter(own -> classes.areEqual(own, columns.iterator().next()))
            .map(own -> Conditions.map(conjunct.predicate(), column -> toSelf(own, self)))
            .forEach(all::add);
      }
    }
    return List.copyOf(all);
  }

  /**
   * The conditions, and what is written of a column beside the one equality that stands for all.
   */
  private List<Predicate> withEveryEquality(
      int self, Set<Integer> read, List<Predicate> conditions) {
    Set<Predicate> all = new LinkedHashSet<>(conditions);
    for (ColumnRef column : classes.columnsOf(self)) {
      classes.written(column, other -> isRead(other, read)).stream()
          .map(it -> new Comparison(toSelf(column, self), ComparisonOperator.EQUAL, it))
          .forEach(all::add);
    }
    return List.copyOf(all);
  }

  private boolean isCarried(Predicate predicate) {
    return (predicate instanceof InList && carried() == Carried.CONDITIONS)
        || (predicate instanceof Comparison comparison
            && comparison.left() instanceof ColumnRef
            && comparison.operator() != ComparisonOperator.NULL_SAFE_NOT_EQUAL);
  }

  private static ColumnRef toSelf(ColumnRef column, int self) {
    return column.use() == self ? new ColumnRef(ColumnRef.SELF, column.column()) : column;
  }

  /**
   * Like {@link #toSelf}, and also a column of another table that is equal to one of this, where
   * the database takes an order through such an equality.
   */
  private ColumnRef toSelfOrEqual(ColumnRef column, int self) {
    if (column.use() == self || !dialect.ordering().throughEquality().value()) {
      return toSelf(column, self);
    }
    return classes.columnsOf(self).stream()
        .filter(own -> classes.areEqual(own, column))
        .findFirst()
        .map(own -> toSelf(own, self))
        .orElse(column);
  }

  private List<OrderItem> order(int self) {
    return block.orderBy().stream()
        .filter(item -> !item.expression().isConstant())
        .filter(item -> !isFixedElsewhere(item.expression(), self, false))
        .map(
            item ->
                new OrderItem(
                    item.expression().map(column -> toSelfOrEqual(column, self)),
                    item.descending(),
                    item.nulls()))
        .toList();
  }

  /** True for a column of another table that equals a constant: every row has the same. */
  private boolean isFixedElsewhere(Expression value, int self, boolean grouping) {
    return JoinRules.of(dialect).fixedElsewhere().value().holds(grouping)
        && dialect.ordering().afterEquality().value()
        && value instanceof ColumnRef column
        && column.use() != self
        && (classes.source(column, other -> false, true).isPresent() || isTested(column));
  }

  /** True where a test for NULL or for a truth value leaves one value. */
  private boolean isTested(ColumnRef column) {
    return conjuncts.stream()
        .filter(conjunct -> conjunct.restricts().contains(column.use()))
        .map(Conjunct::predicate)
        .anyMatch(
            it ->
                it instanceof NullTest test
                    ? dialect.ordering().nullFixes().value()
                        && !SortRules.of(dialect).nullFixesWhereSought().value()
                        && !test.negated()
                        && test.operand().equals(column)
                    : it instanceof TruthTest truth
                        && dialect.ordering().booleansFix().value()
                        && BoundExtractor.isSought(truth, dialect)
                        && truth.operand().equals(column));
  }

  private List<Expression> grouping(int self) {
    List<Expression> terms =
        !block.groupBy().isEmpty()
            ? new GroupTerms(block, tables, SortRules.of(dialect)).deciding()
            : block.distinct() ? block.projection() : List.of();
    return terms.stream()
        .filter(term -> !term.isConstant() && !isFixedElsewhere(term, self, true))
        .map(term -> term.map(column -> toSelfOrEqual(column, self)))
        .distinct()
        .toList();
  }
}
