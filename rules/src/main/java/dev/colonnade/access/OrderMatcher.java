package dev.colonnade.access;

import dev.colonnade.access.Bound.Kind;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Ordering.GroupDirection;
import dev.colonnade.dialect.Ordering.InListOrder;
import dev.colonnade.dialect.SortRules;
import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.query.OrderItem;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Decides whether a scan of an index delivers rows in the order, or the groups, that the query
 * wants.
 *
 * <p>A key column bound to one value may be passed over: among the entries that are read it does
 * not vary.
 */
final class OrderMatcher {
  private final Table table;
  private final Dialect dialect;
  private final SortRules sorting;
  private final NullPlacement nulls;
  private final UniqueRows unique;

  OrderMatcher(Table table, Dialect dialect) {
    this.table = table;
    this.dialect = dialect;
    this.sorting = SortRules.of(dialect);
    this.nulls = new NullPlacement(table, dialect);
    this.unique = new UniqueRows(table, dialect);
  }

  /**
   * True when no sort is needed.
   *
   * @param ofGroups true for an order of the groups of GROUP BY
   */
  boolean servesOrder(IndexEntry entry, Demand demand, KeyMatch match, boolean ofGroups) {
    if (ofGroups && nulls.forbidsForGroups(demand.order())) {
      return false; // even that of one group
    }
    boolean oneRow =
        needsNoOrder(entry, match, demand)
            && !nulls.forbidsForOneRow(demand.order())
            && demand.order().stream().allMatch(item -> demand.isDecidedByRow(item.expression()));
    if (oneRow || demand.order().isEmpty()) {
      return true;
    }
    if (isOfNullsOnly(demand.order().stream().map(OrderItem::expression), demand)) {
      return false;
    }
    List<OrderItem> varying =
        demand.order().stream()
            .filter(item -> !isDropped(item.expression(), demand, match))
            .toList();
    return (dropsFixed() && delivers(varying, entry, demand, match))
        || (keepsFixed() && delivers(demand.order(), entry, demand, match));
  }

  /**
   * False where a fixed term is always dropped, while its column is not passed over in an index
   * that is not searched by it: the terms behind it then never follow.
   */
  private boolean keepsFixed() {
    return !dropsFixed() || dialect.ordering().overFiltered().value();
  }

  /**
   * An order or grouping that, but for columns that equal a value, names columns only that are
   * NULL, or that lie between a value and the same value, which the database sorts all the same.
   */
  private boolean isOfNullsOnly(Stream<Expression> terms, Demand demand) {
    if (!sorting.ordersByNullsSorted().value()) {
      return false;
    }
    List<List<Bound>> varying =
        terms
            .map(demand::boundsOn)
            .filter(bounds -> bounds.stream().noneMatch(OrderMatcher::isPlainEquality))
            .toList();
    return !varying.isEmpty() && varying.stream().allMatch(OrderMatcher::isNullOrRange);
  }

  private static boolean isPlainEquality(Bound bound) {
    return bound.kind() == Kind.EQUALITY && !isOfNull(bound);
  }

  private static boolean isNull(List<Bound> bounds) {
    return bounds.stream().anyMatch(OrderMatcher::isOfNull);
  }

  private static boolean isNullOrRange(List<Bound> bounds) {
    return isNull(bounds) || bounds.stream().anyMatch(Bound::hasEqualEnds);
  }

  /** True for IS NULL, and for an equality that NULL may meet. */
  private static boolean isOfNull(Bound bound) {
    return bound.kind() == Kind.IS_NULL || (bound.kind() == Kind.EQUALITY && isNullSafe(bound));
  }

  /** True where one row at most is found and the database knows it for ordered. */
  private boolean needsNoOrder(IndexEntry entry, KeyMatch match, Demand demand) {
    return unique.isOne(entry, match)
        && sorting.singleRow().value()
        && match.values().stream().noneMatch(value -> isConverted(value, demand));
  }

  /** True where no term of the order varies, or none is asked for. */
  boolean isOrderMoot(Demand demand, KeyMatch match) {
    return demand.order().stream()
        .allMatch(item -> dropsFixed() && isDropped(item.expression(), demand, match));
  }

  /** Where a key column bound to one value is passed over, such a term of the order is dropped. */
  private boolean dropsFixed() {
    return dialect.ordering().afterEquality().value();
  }

  private boolean delivers(
      List<OrderItem> wanted, IndexEntry entry, Demand demand, KeyMatch match) {
    if (wanted.isEmpty()) {
      return true;
    }
    if (!isOrdered(entry) || nulls.forbids(wanted)) {
      return false;
    }
    boolean forward = true;
    boolean backward = dialect.ordering().backward().value();
    int next = 0;
    for (int position = 0; position < entry.search().size() && next < wanted.size(); position++) {
      KeyColumn part = entry.search().get(position);
      OrderItem item = wanted.get(next);
      if (part.value().equals(item.expression())) {
        if (!isOrdering(part, position, match) || isUnseenConstant(part, demand, match)) {
          return false;
        }
        boolean behind = !match.isJumping() && position == equalities(match);
        forward &= runsAlong(part, item, demand, false, behind);
        backward &= runsAlong(part, item, demand, true, behind);
        next++;
      } else if (!passesOver(part, demand, match)) {
        return false;
      }
      if (!forward && !backward) {
        return false;
      }
      if (endsOrder(entry, position, demand, match)
          && isDecided(wanted.subList(next, wanted.size()), demand)) {
        return true;
      }
    }
    return next == wanted.size();
  }

  /** Number of key columns that the scan is bound to single values of. */
  private static int equalities(KeyMatch match) {
    return (int) match.matched().stream().takeWhile(it -> it.kind().isPoint()).count();
  }

  /**
   * True where no two rows tie once the entries are read in order up to a place, and the database
   * asks nothing of an order behind that: behind a whole unique key, or a row number that varies.
   */
  private boolean endsOrder(IndexEntry entry, int position, Demand demand, KeyMatch match) {
    return dialect.ordering().uniqueEndsOrder().value() && isUnique(entry, position, demand, match);
  }

  /** True where no two entries are alike up to a place. */
  private boolean isUnique(IndexEntry entry, int position, Demand demand, KeyMatch match) {
    List<KeyColumn> key = entry.index().keyColumns();
    boolean whole =
        entry.index().unique()
            && position + 1 == key.size()
            && key.stream()
                .allMatch(
                    part ->
                        isNeverNull(part)
                            || (isSought(part.value(), match) && !isNull(bounds(part, demand))));
    KeyColumn last = entry.search().get(position);
    return whole
        || (IndexEntry.isRowNumber(last, table, dialect)
            && demand.boundsOn(last.value()).stream().noneMatch(it -> it.kind() == Kind.EQUALITY));
  }

  private boolean isNeverNull(KeyColumn part) {
    return part.column().map(it -> !table.isNullable(it)).orElse(false);
  }

  private static List<Bound> bounds(KeyColumn part, Demand demand) {
    return demand.boundsOn(part.value());
  }

  /** True where the scan is bound to single values of it. */
  private static boolean isSought(Expression value, KeyMatch match) {
    int matched = match.values().indexOf(value);
    return matched >= 0 && match.matched().get(matched).kind().isPoint();
  }

  /** The rows of a later table order something, where one row of this table meets several. */
  private static boolean isDecided(List<OrderItem> items, Demand demand) {
    return items.stream().allMatch(item -> demand.isDecidedByRow(item.expression()));
  }

  /**
   * True when rows of one group come one after the other.
   *
   * @param distinct true where the groups are those of DISTINCT
   */
  boolean servesGrouping(IndexEntry entry, Demand demand, KeyMatch match, boolean distinct) {
    boolean dropsFixed = dialect.ordering().fixedGroupTerms().value();
    Set<Expression> wanted =
        demand.grouping().stream()
            .filter(value -> !dropsFixed || !isDropped(value, demand, KeyMatch.none("")))
            .collect(Collectors.toSet());
    boolean oneRow =
        needsNoOrder(entry, match, demand) && wanted.stream().allMatch(demand::isDecidedByRow);
    if (oneRow || wanted.isEmpty()) {
      return true;
    }
    if (!isOrdered(entry) || isOfNullsOnly(wanted.stream(), demand)) {
      return false;
    }
    List<Expression> open = new ArrayList<>(wanted);
    List<KeyColumn> used = new ArrayList<>();
    for (int position = 0; position < entry.search().size() && !open.isEmpty(); position++) {
      KeyColumn part = entry.search().get(position);
      if (open.remove(part.value())) {
        if (!isOrdering(part, position, match)) {
          return false;
        }
        used.add(part);
        if (sorting.uniqueEndsGroups().value()
            && isUnique(entry, position, demand, match)
            && open.stream().allMatch(demand::isDecidedByRow)) {
          open.clear();
        }
      } else if (!dialect.ordering().groupsAfterEquality().value()
          || !passesOver(part, demand, match)
          || isConverted(part.value(), demand)) {
        return false;
      }
    }
    GroupDirection direction =
        distinct
            ? sorting.distinctDirection().value()
            : dialect.ordering().groupDirection().value();
    return open.isEmpty() && isGroupDirection(used, direction) && isWrittenSo(used, demand);
  }

  /** A day or moment that equals a text only, where the database does not count on that. */
  private boolean isConverted(Expression value, Demand demand) {
    return !sorting.convertedFixesGroups().value()
        && value instanceof ColumnRef column
        && table
            .column(column.column())
            .filter(it -> it.type().family() != TypeFamily.TEXT)
            .isPresent()
        && demand.boundsOn(value).stream()
            .flatMap(bound -> bound.origins().stream())
            .allMatch(OrderMatcher::isWithText);
  }

  private static boolean isWithText(Predicate condition) {
    return condition instanceof Comparison comparison
        && comparison.right() instanceof Literal literal
        && literal.kind() == LiteralKind.TEXT;
  }

  private boolean isWrittenSo(List<KeyColumn> used, Demand demand) {
    if (dialect.ordering().groupTermsInAnyOrder().value()) {
      return true;
    }
    List<Expression> values = used.stream().map(KeyColumn::value).toList();
    return values.equals(demand.grouping().stream().filter(values::contains).toList());
  }

  private static boolean isOrdered(IndexEntry entry) {
    return entry.index().method() == IndexMethod.BTREE;
  }

  private static boolean isPatternOrder(KeyColumn part) {
    return part.operatorClass().map(name -> name.endsWith("pattern_ops")).orElse(false);
  }

  /** True when the database knows that the value is the same in every row that qualifies. */
  private boolean isFixed(Expression value, Demand demand, KeyMatch match) {
    boolean seen = value instanceof ColumnRef || dialect.ordering().fixedExpressions().value();
    return seen
        && demand.boundsOn(value).stream()
            .filter(bound -> !isOfNull(bound) || nullFixes(value, match))
            .anyMatch(this::fixes);
  }

  /** True for a term of an order or grouping that the database drops. */
  private boolean isDropped(Expression value, Demand demand, KeyMatch match) {
    return isFixed(value, demand, match) && !isUnseenBoolean(value);
  }

  /** True for a boolean column where the database turns a comparison of it into a bare test. */
  private boolean isUnseenBoolean(Expression value) {
    return !dialect.ordering().booleansFix().value()
        && value instanceof ColumnRef column
        && table
            .column(column.column())
            .map(it -> it.type().family() == TypeFamily.BOOLEAN)
            .orElse(false);
  }

  private static boolean isNullSafe(Bound bound) {
    return bound.origins().stream()
        .allMatch(
            it ->
                it instanceof Comparison comparison
                    && comparison.operator() == ComparisonOperator.NULL_SAFE_EQUAL);
  }

  private boolean fixes(Bound bound) {
    if (isNullSafe(bound) && !dialect.ordering().nullSafeFixes().value()) {
      return false;
    }
    return bound.kind() == Kind.EQUALITY
        || (bound.kind() == Kind.IS_NULL && dialect.ordering().nullFixes().value());
  }

  private boolean nullFixes(Expression value, KeyMatch match) {
    return !sorting.nullFixesWhereSought().value() || isSought(value, match);
  }

  private boolean passesOver(KeyColumn part, Demand demand, KeyMatch match) {
    if (part.prefixLength().isPresent()) {
      return false;
    }
    int matched = match.values().indexOf(part.value());
    return matched >= 0
        ? dialect.ordering().afterEquality().value() && fixes(match.matched().get(matched))
        : dialect.ordering().overFiltered().value() && isFixed(part.value(), demand, match);
  }

  /**
   * An expression that is searched for by one value, which the database does not see in an order. A
   * scan that jumps searches by every equality behind the column that it jumps over.
   */
  private boolean isUnseenConstant(KeyColumn part, Demand demand, KeyMatch match) {
    List<Bound> searched = match.isJumping() ? demand.bounds() : match.matched();
    return !(part.value() instanceof ColumnRef)
        && !dialect.ordering().fixedExpressions().value()
        && searched.stream()
            .anyMatch(it -> it.kind() == Kind.EQUALITY && it.value().equals(part.value()));
  }

  /** Whether the part is stored in the order of its values and is read in it. */
  private boolean isOrdering(KeyColumn part, int position, KeyMatch match) {
    return part.prefixLength().isEmpty()
        && !isPatternOrder(part)
        && keepsOrder(part, position, match);
  }

  private boolean isGroupDirection(List<KeyColumn> parts, GroupDirection direction) {
    long descending =
        dialect.features().descending().value()
            ? parts.stream().filter(KeyColumn::descending).count()
            : 0;
    return switch (direction) {
      case ANY -> true;
      case UNIFORM -> descending == 0 || descending == parts.size();
      case ASCENDING -> descending == 0;
    };
  }

  /** An IN list reads several stretches, one a value; whether they join in order differs. */
  private boolean keepsOrder(KeyColumn part, int position, KeyMatch match) {
    int matched = match.values().indexOf(part.value());
    if (matched < 0 || match.matched().get(matched).kind() != Kind.IN_LIST) {
      return true;
    }
    if (isNullOrValue(match.matched().get(matched)) && !sorting.nullFirstKeepsOrder().value()) {
      return false;
    }
    InListOrder rule = dialect.ordering().inListKeepsOrder().value();
    return switch (rule) {
      case KEPT -> true;
      case KEPT_ON_LEADING -> position == 0;
      case LOST -> false;
    };
  }

  private static boolean isNullOrValue(Bound bound) {
    return bound.origins().stream()
        .anyMatch(
            it -> it instanceof Or or && or.parts().stream().anyMatch(NullTest.class::isInstance));
  }

  private boolean runsAlong(
      KeyColumn part, OrderItem item, Demand demand, boolean backward, boolean behindEqualities) {
    boolean stored = part.descending() && dialect.features().descending().value();
    return (stored != backward) == item.descending()
        && nulls.agrees(part, item, demand, backward, behindEqualities);
  }
}
