package dev.colonnade.access;

import dev.colonnade.access.Bound.Kind;
import dev.colonnade.dialect.ListRules;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.RowInList;
import dev.colonnade.schema.KeyColumn;
import java.util.List;

/**
 * Which lists of rows, and rows of subqueries, bound a scan of an index beside its other
 * conditions.
 *
 * @param rules what the database does with them
 */
record ListBounds(ListRules rules) {

  /** The demand without the lists that give way to other conditions on the index. */
  Demand usable(IndexEntry entry, Demand demand) {
    List<Expression> key = entry.search().stream().map(KeyColumn::value).toList();
    return switch (rules.givesWay().value()) {
      case NONE -> demand;
      case ROWS_TO_LEADING ->
          demand.boundsOn(key.get(0)).stream().anyMatch(bound -> !isLate(bound))
                  || demand.conditions().stream().anyMatch(it -> isNullTest(it, key.get(0)))
              ? demand.withBounds(bound -> !isRowList(bound))
              : demand;
      case ROWS_AND_SUBQUERIES_TO_ANY ->
          demand.bounds().stream().anyMatch(bound -> goesBefore(bound, key))
              ? demand.withBounds(bound -> !isLate(bound))
              : demand;
    };
  }

  /** The other columns that a list of rows on the leading column bounds at once. */
  List<Expression> rowBehind(IndexEntry entry, Bound bound) {
    List<Expression> key = entry.index().keyColumns().stream().map(KeyColumn::value).toList();
    boolean whole =
        rules.wholeKeyOnly().value()
            && bound.origins().get(0) instanceof RowInList row
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
