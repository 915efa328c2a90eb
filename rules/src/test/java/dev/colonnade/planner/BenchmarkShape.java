package dev.colonnade.planner;

import dev.colonnade.access.Candidate;
import dev.colonnade.planner.BenchmarkResult.Comparison;
import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.FromItem;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/** What may be asked of a plan and a query that differ from the analysis. */
record BenchmarkShape(Comparison it) {
  String plan() {
    return it.plan();
  }

  PlannedScan scan() {
    return it.scan();
  }

  Candidate ours() {
    return it.ours();
  }

  private List<String> planned() {
    return scan().matching().orElse(List.of());
  }

  /** True where the plan seeks on what we say and on more. */
  boolean goesFurther(String what) {
    return what.equals("matching")
        && planned().size() > it.matching().size()
        && planned().subList(0, it.matching().size()).equals(it.matching());
  }

  /** The columns that only the plan seeks on. */
  List<String> further() {
    return planned().subList(it.matching().size(), planned().size());
  }

  /** True where the plan seeks on the first of the columns that we say. */
  boolean stopsShort(String what) {
    return what.equals("matching")
        && planned().size() < it.matching().size()
        && it.matching().subList(0, planned().size()).equals(planned());
  }

  /** The first column that the plan does not seek on. */
  String leftOut() {
    return it.matching().get(planned().size());
  }

  /** True where the plan needs no sort and we say that one is needed. */
  boolean isInOrder(String what) {
    return what.equals("ordered") && it.inOrder().equals(Optional.of(true));
  }

  /** True where a condition of that kind is asked of the table's column. */
  boolean isAsked(String column, Class<? extends Predicate> kind) {
    return it.block().conjuncts().stream()
        .map(conjunct -> conjunct.predicate())
        .filter(kind::isInstance)
        .anyMatch(predicate -> predicate.columns().contains(own(column)));
  }

  private ColumnRef own(String column) {
    return new ColumnRef(it.use(), Identifier.of(column));
  }

  /** True where equalities lead from the column through others to a value, or a row before. */
  boolean isCarried(String column) {
    Set<Expression> seen = new HashSet<>(Set.of(own(column)));
    Deque<Expression> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      Expression next = open.pop();
      equals(next).filter(seen::add).forEach(open::push);
    }
    return seen.stream()
        .anyMatch(
            value ->
                value.isConstant()
                    || (value instanceof ColumnRef other && isReadBefore(other.use())));
  }

  private Stream<Expression> equals(Expression value) {
    return it.block().conjuncts().stream()
        .map(conjunct -> conjunct.predicate())
        .filter(Predicate.Comparison.class::isInstance)
        .map(Predicate.Comparison.class::cast)
        .filter(comparison -> comparison.operator() == ComparisonOperator.EQUAL)
        .flatMap(
            comparison ->
                Stream.of(comparison, comparison.flipped())
                    .filter(side -> side.left().equals(value))
                    .map(Predicate.Comparison::right));
  }

  private boolean isReadBefore(int use) {
    return it.block().from().stream()
        .filter(item -> item.use() == use)
        .anyMatch(item -> isNamed(item, scan().readBefore()));
  }

  private static boolean isNamed(FromItem item, List<String> aliases) {
    return aliases.stream()
        .flatMap(it -> Stream.of(it, it.replaceFirst(BenchmarkRun.NUMBERED, "")))
        .map(Identifier::of)
        .anyMatch(Identifier.of(item.alias())::equals);
  }

  /** True for an operand of a set operation. */
  boolean isOperand() {
    return it.block().role() == BlockRole.SET_OPERAND
        || it.query().blocks().stream()
            .anyMatch(
                block ->
                    block.role() == BlockRole.SET_OPERAND
                        && block.parent().equals(Optional.of(it.block().number())));
  }

  /** True for a column that the block yields as it is. */
  boolean isOutput(String column) {
    return it.block().projection().contains(own(column));
  }

  /** True where tables of blocks around are read before. */
  boolean isReadBeforeFromOutside() {
    return it.query().blocks().stream()
        .filter(block -> !block.equals(it.block()))
        .flatMap(block -> block.tables().stream())
        .anyMatch(use -> isNamed(use, scan().readBefore()));
  }

  /** True where the plan of MariaDB looks the table up by equalities. */
  boolean isLookedUp() {
    return plan()
        .matches("(?s).*\"table_name\": \"" + scan().alias() + "\",\\s*\"access_type\": \"ref\".*");
  }

  /** True where equalities and lists bind a whole unique key. */
  boolean isFoundByUniqueKey() {
    return ours()
        .index()
        .filter(index -> index.unique() && ours().matching().size() == index.keyColumns().size())
        .isPresent();
  }

  /** True where the groups of one table contain a key of it. */
  boolean groupsByUniqueKey() {
    return it.block().from().size() == 1
        && it.table()
            .hasUniqueKeyWithin(
                it.block().groupBy().stream()
                    .map(
                        value ->
                            value.map(column -> new ColumnRef(ColumnRef.SELF, column.column())))
                    .toList());
  }
}
