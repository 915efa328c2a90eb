package dev.colonnade.query.sql;

import dev.colonnade.dialect.DerivedTableRules;
import dev.colonnade.dialect.DerivedTableRules.Pushed;
import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.TruthTest;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.DerivedUse;
import dev.colonnade.query.NullRejection;
import dev.colonnade.query.QueryBlock;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * Conditions on the rows of a derived table that may as well be asked of the rows that it is made
 * of: those on grouping columns, on values by which every window is partitioned, on the columns of
 * each operand of a set operation; none below a row limit. Only conditions on columns as they are
 * go down.
 */
final class PushedConditions {
  private final DerivedTableRules rules;
  private final Map<Integer, List<Set<Expression>>> windows;
  private final Map<Integer, QueryBlock> blocks = new TreeMap<>();
  private final Map<Integer, Integer> readers = new HashMap<>();

  /**
   * What goes down on one database.
   *
   * @param windows for each block with window functions, the values that partition the rows of each
   */
  PushedConditions(DerivedTableRules rules, Map<Integer, List<Set<Expression>>> windows) {
    this.rules = rules;
    this.windows = windows;
  }

  /** The blocks with the conditions added that go down into them. */
  List<QueryBlock> into(List<QueryBlock> before) {
    if (rules.pushed().value() == Pushed.NOTHING) {
      return before;
    }
    before.forEach(block -> blocks.put(block.number(), block));
    for (QueryBlock block : before) {
      for (FromItem item : block.from()) {
        if (item instanceof DerivedUse derived) {
          derived.block().ifPresent(number -> readers.merge(number, 1, Integer::sum));
        }
      }
    }
    if (readers.isEmpty()) {
      return before;
    }
    before.stream()
        .map(QueryBlock::number)
        .filter(number -> !readers.containsKey(number))
        .forEach(number -> down(number, new HashSet<>()));
    return List.copyOf(blocks.values());
  }

  private void down(int number, Set<Integer> seen) {
    if (!seen.add(number)) {
      return;
    }
    for (FromItem item : blocks.get(number).from()) {
      if (item instanceof DerivedUse derived
          && derived.block().filter(below -> readers.get(below) == 1).isPresent()) {
        int below = derived.block().get();
        List<QueryBlock> operands = operands(below);
        operands.forEach(operand -> down(blocks.get(number), derived, operand, operands.size()));
        operands.forEach(operand -> down(operand.number(), seen));
      }
    }
  }

  /** The blocks of which the rows come: one, or the operands of a set operation. */
  private List<QueryBlock> operands(int first) {
    List<QueryBlock> result = new ArrayList<>(List.of(blocks.get(first)));
    blocks.values().stream()
        .filter(block -> block.role() == BlockRole.SET_OPERAND)
        .filter(block -> block.parent().equals(Optional.of(first)))
        .forEach(result::add);
    return result;
  }

  private void down(QueryBlock around, DerivedUse derived, QueryBlock into, int operands) {
    boolean plainOnly = rules.pushed().value() == Pushed.OWN_OF_PLAIN;
    boolean known =
        into.projection().size() == derived.columns().size()
            && into.limit().isEmpty()
            && (!plainOnly || (operands == 1 && isPlain(into) && isInner(around)))
            && (operands == 1 || windows.getOrDefault(first(into), List.of()).isEmpty());
    if (!known) {
      return;
    }
    Map<Identifier, ColumnRef> values = columns(derived, into);
    Set<Conjunct> conjuncts = new LinkedHashSet<>(into.conjuncts());
    for (Conjunct conjunct : around.conjuncts()) {
      if (conjunct.restricts().contains(derived.use())
          && goesDown(conjunct.predicate(), around, derived, values)) {
        Predicate predicate =
            Conditions.map(
                conjunct.predicate(),
                column -> column.use() == derived.use() ? values.get(column.column()) : column);
        conjuncts.add(new Conjunct(predicate, restricted(predicate, into)));
      }
    }
    blocks.put(into.number(), into.withConjuncts(List.copyOf(conjuncts)));
  }

  private boolean isPlain(QueryBlock into) {
    return into.role() == BlockRole.DERIVED_TABLE
        && into.groupBy().isEmpty()
        && into.aggregates().isEmpty()
        && windows.getOrDefault(into.number(), List.of()).isEmpty();
  }

  private static boolean isInner(QueryBlock around) {
    return around.from().stream().noneMatch(FromItem::nullSupplied);
  }

  /** The number of the first operand of the set operation, which stands for the whole. */
  private static int first(QueryBlock operand) {
    return operand.role() == BlockRole.SET_OPERAND
        ? operand.parent().orElseThrow()
        : operand.number();
  }

  /** The columns inside that conditions on the derived table's may be asked of. */
  private Map<Identifier, ColumnRef> columns(DerivedUse derived, QueryBlock into) {
    boolean grouped = !into.groupBy().isEmpty() || !into.aggregates().isEmpty();
    List<Set<Expression>> partitions = windows.getOrDefault(into.number(), List.of());
    boolean closed = !partitions.isEmpty() && rules.pushed().value() != Pushed.OWN;
    Map<Identifier, ColumnRef> values = new LinkedHashMap<>();
    for (int i = 0; i < derived.columns().size(); i++) {
      Expression value = into.projection().get(i);
      if (!closed
          && value instanceof ColumnRef column
          && (!grouped || into.groupBy().contains(column))
          && partitions.stream().allMatch(partition -> partition.contains(column))) {
        values.putIfAbsent(derived.columns().get(i), column);
      }
    }
    return values;
  }

  private boolean goesDown(
      Predicate predicate,
      QueryBlock around,
      DerivedUse derived,
      Map<Identifier, ColumnRef> values) {
    boolean readable =
        predicate.columns().stream()
            .allMatch(
                column -> column.use() != derived.use() || values.containsKey(column.column()));
    if (!readable || hasSubquery(predicate)) {
      return false;
    }
    boolean own = predicate.columns().stream().allMatch(column -> column.use() == derived.use());
    if (rules.pushed().value() != Pushed.COMPARISONS_AND_JOINS) {
      return own && !(rules.pushed().value() == Pushed.OWN_OF_PLAIN && predicate instanceof Or);
    }
    boolean follows = around.from().get(0).use() != derived.use();
    boolean tests =
        predicate instanceof TruthTest truth
            ? !truth.matchesNull()
            : predicate instanceof NullTest test && !test.negated();
    return tests
        || (predicate instanceof Comparison comparison
            && comparison.operator() != ComparisonOperator.NOT_EQUAL
            && comparison.operator() != ComparisonOperator.NULL_SAFE_NOT_EQUAL
            && (own || (follows && isBetween(comparison, derived.use()))));
  }

  /** True where one side is of the use and the other is not. */
  private static boolean isBetween(Comparison comparison, int use) {
    return comparison.left().columns().stream().allMatch(it -> it.use() == use)
        != comparison.right().columns().stream().allMatch(it -> it.use() == use);
  }

  /** Subqueries keep their place: what they read of the derived table is known outside only. */
  private static boolean hasSubquery(Predicate predicate) {
    String text = predicate.render().toLowerCase(Locale.ROOT);
    return text.contains("(subquery)") || text.contains("(select");
  }

  /** A condition on the rows inside restricts what it names, but for what can be missing there. */
  private static Set<Integer> restricted(Predicate predicate, QueryBlock into) {
    Set<Integer> rejected = NullRejection.rejectedBy(predicate);
    Set<Integer> uses = new HashSet<>();
    for (FromItem item : into.from()) {
      boolean named = predicate.columns().stream().anyMatch(column -> column.use() == item.use());
      if (named && (!item.nullSupplied() || rejected.contains(item.use()))) {
        uses.add(item.use());
      }
    }
    return uses;
  }
}
