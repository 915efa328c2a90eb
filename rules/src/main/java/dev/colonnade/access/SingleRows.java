package dev.colonnade.access;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Table;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/** Which tables of a block add no row of their own: each is joined by a whole unique key. */
final class SingleRows {
  private final QueryBlock block;
  private final List<Conjunct> conjuncts;
  private final Map<Integer, Table> tables;
  private final EquivalenceClasses classes;
  private final Set<Integer> joined;

  /**
   * @param joined every use whose rows vary within the join: those of the block, and those of other
   *     blocks that are read along with them
   */
  SingleRows(
      QueryBlock block,
      List<Conjunct> conjuncts,
      Map<Integer, Table> tables,
      EquivalenceClasses classes,
      Set<Integer> joined) {
    this.block = block;
    this.conjuncts = conjuncts;
    this.tables = tables;
    this.classes = classes;
    this.joined = joined;
  }

  /** The other uses that have one row at most for each row of the given one. */
  Set<Integer> followers(int self) {
    Set<Integer> open = new LinkedHashSet<>();
    block.tables().stream().map(TableUse::use).filter(use -> use != self).forEach(open::add);
    open.retainAll(tables.keySet());
    Set<Integer> varying = new LinkedHashSet<>(joined);
    varying.remove(self);
    boolean found = true;
    while (found) {
      found = open.removeIf(use -> isSingle(use, varying));
      varying.removeIf(use -> tables.containsKey(use) && use != self && !open.contains(use));
    }
    varying.add(self);
    return joined.stream()
        .filter(use -> !varying.contains(use))
        .collect(Collectors.toUnmodifiableSet());
  }

  private boolean isSingle(int use, Set<Integer> varying) {
    List<ColumnRef> fixed =
        tables.get(use).columns().stream()
            .map(Column::name)
            .map(name -> new ColumnRef(use, name))
            .filter(column -> isFixed(column, varying))
            .map(column -> new ColumnRef(ColumnRef.SELF, column.column()))
            .toList();
    return tables.get(use).hasUniqueKeyWithin(fixed);
  }

  private boolean isFixed(ColumnRef column, Set<Integer> varying) {
    return classes.source(column, other -> !varying.contains(other.use()), true).isPresent()
        || conjuncts.stream()
            .filter(conjunct -> conjunct.restricts().contains(column.use()))
            .anyMatch(conjunct -> fixes(conjunct, column, varying));
  }

  private static boolean fixes(Conjunct conjunct, ColumnRef column, Set<Integer> varying) {
    return conjunct.predicate() instanceof Comparison comparison
        && comparison.operator() == ComparisonOperator.EQUAL
        && ((comparison.left().equals(column) && isSteady(comparison.right(), varying))
            || (comparison.right().equals(column) && isSteady(comparison.left(), varying)));
  }

  private static boolean isSteady(Expression value, Set<Integer> varying) {
    return value.columns().stream().noneMatch(column -> varying.contains(column.use()));
  }
}
