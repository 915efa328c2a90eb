package dev.colonnade.access;

import dev.colonnade.access.Bound.Kind;
import dev.colonnade.dialect.ListRules;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.RowInList;
import dev.colonnade.predicate.Predicate.TruthTest;
import dev.colonnade.schema.KeyColumn;
import java.util.List;
import java.util.stream.Stream;

/**
 * Which lists of rows, and rows of subqueries, bound a scan of an index beside its other
 * conditions.
 *
 * @param rules what the database does with them
 */
record ListBounds(ListRules rules) {

  /** The demand without the lists that give way to other conditions on the index. */
  Demand usable(IndexEntry entry, Demand demand) {
    List<Expression> key = columns(entry);
    return switch (rules.givesWay().value()) {
      case NONE -> demand;
      case ROWS_TO_LEADING ->
          demand.boundsOn(key.get(0)).stream().anyMatch(bound -> !isLate(bound))
                  || demand.conditions().stream().anyMatch(it -> isNullTest(it, key.get(0)))
              ? demand.withBounds(bound -> !isRowList(bound))
              : demand;
      case ROWS_AND_SUBQUERIES_TO_ANY ->
          demand.bounds().stream().anyMatch(bound -> goesBefore(bound, key))
              ? firstAlone(key, demand.withBounds(bound -> !isLate(bound)))
              : firstAlone(key, demand);
    };
  }

  /**
   * Where a list on the leading column stands beside other conditions on the index: the list alone
   * where it is certain to be evaluated first, or where the other conditions bound the same column
   * at least; otherwise what is left without it.
   */
  private Demand firstAlone(List<Expression> key, Demand demand) {
    List<Bound> leading = demand.boundsOn(key.get(0));
    List<Bound> others =
        demand.bounds().stream()
            .filter(it -> it.kind() != Kind.IN_LIST && it.kind() != Kind.IS_NOT_NULL)
            .filter(it -> key.contains(it.value()))
            .toList();
    List<Bound> wanted = leading.stream().filter(it -> it.kind() == Kind.IN_LIST).toList();
    if (!rules.firstAlone().value() || wanted.isEmpty() || others.isEmpty()) {
      return demand;
    }
    boolean first =
        demand.conditionCount() <= 2
            && wanted.stream().noneMatch(Bound::fromJoin)
            && others.stream().noneMatch(it -> it.origins().get(0) instanceof TruthTest);
    return first || others.stream().anyMatch(leading::contains)
        ? demand.withBounds(wanted::contains)
        : demand.withBounds(it -> !wanted.contains(it));
  }

  /** True where a list on the leading column bounds nothing beside the other conditions. */
  boolean isDisplaced(IndexEntry entry, Demand demand) {
    Expression leading = entry.search().get(0).value();
    return rules.firstAlone().value()
        && hasList(demand, leading)
        && !hasList(usable(entry, demand), leading);
  }

  private static boolean hasList(Demand demand, Expression value) {
    return demand.boundsOn(value).stream().anyMatch(it -> it.kind() == Kind.IN_LIST);
  }

  /** The parts of the key, the leading one first, and what is included. */
  private static List<Expression> columns(IndexEntry entry) {
    return Stream.concat(
            entry.search().stream().map(KeyColumn::value),
            entry.index().includedColumns().stream().map(it -> new ColumnRef(ColumnRef.SELF, it)))
        .toList();
  }

  /** The other columns that a list of rows on the leading column bounds at once. */
  List<Expression> rowBehind(IndexEntry entry, Bound bound) {
    List<Expression> key = entry.index().keyColumns().stream().map(KeyColumn::value).toList();
    boolean whole =
        rules.wholeKeyOnly().value()
            && bound.origins().get(0) instanceof RowInList row
            && entry.index().includedColumns().isEmpty()
            && row.operands().size() == key.size()
            && row.operands().containsAll(key);
    return whole ? key.subList(1, key.size()) : List.of();
  }

  /** True for a condition on the key that is taken before a list of rows. */
  private static boolean goesBefore(Bound bound, List<Expression> key) {
    return switch (bound.kind()) {
      case EQUALITY, IS_NULL, CLOSED_RANGE, OPEN_RANGE, LIKE_PREFIX -> key.contains(bound.value());
      case IN_LIST -> !isLate(bound) && bound.value().equals(key.get(0));
      case IS_NOT_NULL -> false;
    };
  }

  private static boolean isLate(Bound bound) {
    Predicate origin = bound.origins().get(0);
    return bound.kind() == Kind.IN_LIST
        && (origin instanceof RowInList || origin instanceof InSubquery);
  }

  /** True where the next part of the key is a column of the same row, and is bound by it. */
  boolean continuesRow(List<KeyColumn> key, int next, Bound bound) {
    return !rules.wholeKeyOnly().value()
        && bound.origins().get(0) instanceof RowInList row
        && next < key.size()
        && row.operands().contains(key.get(next).value());
  }

  /** IS NOT NULL is taken also where the column cannot be NULL, so that it is no bound. */
  private static boolean isNullTest(Predicate condition, Expression value) {
    return condition instanceof NullTest test && test.operand().equals(value);
  }

  private static boolean isRowList(Bound bound) {
    return bound.kind() == Kind.IN_LIST && bound.origins().get(0) instanceof RowInList;
  }
}
