package dev.colonnade.access;

import dev.colonnade.access.Bound.Kind;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Ordering.InListOrder;
import dev.colonnade.predicate.Expression;
import dev.colonnade.query.OrderItem;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.NullOrder;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

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

  OrderMatcher(Table table, Dialect dialect) {
    this.table = table;
    this.dialect = dialect;
  }

  /** True when no sort is needed. */
  boolean servesOrder(IndexEntry entry, Demand demand, KeyMatch match) {
    if (match.unique() || demand.order().isEmpty()) {
      return true;
    }
    List<OrderItem> varying =
        demand.order().stream().filter(item -> !isFixed(item.expression(), demand)).toList();
    return (dropsFixed() && delivers(varying, entry, demand, match))
        || delivers(demand.order(), entry, demand, match);
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
    if (!isOrdered(entry)) {
      return false;
    }
    boolean forward = true;
    boolean backward = dialect.ordering().backward().value();
    int next = 0;
    for (int position = 0; position < entry.search().size() && next < wanted.size(); position++) {
      KeyColumn part = entry.search().get(position);
      OrderItem item = wanted.get(next);
      if (part.prefixLength().isPresent() || isPatternOrder(part)) {
        return false;
      }
      if (part.value().equals(item.expression())) {
        if (!keepsOrder(part, position, match)) {
          return false;
        }
        forward &= runsAlong(part, item, demand, false);
        backward &= runsAlong(part, item, demand, true);
        next++;
      } else if (!passesOver(part, demand, match)) {
        return false;
      }
      if (!forward && !backward) {
        return false;
      }
    }
    return next == wanted.size();
  }

  /** True when rows of one group come one after the other. */
  boolean servesGrouping(IndexEntry entry, Demand demand, KeyMatch match) {
    Set<Expression> wanted =
        demand.grouping().stream()
            .filter(value -> !dropsFixed() || !isFixed(value, demand))
            .collect(Collectors.toSet());
    if (match.unique() || wanted.isEmpty()) {
      return true;
    }
    if (!isOrdered(entry)) {
      return false;
    }
    List<Expression> open = new ArrayList<>(wanted);
    for (int position = 0; position < entry.search().size() && !open.isEmpty(); position++) {
      KeyColumn part = entry.search().get(position);
      if (part.prefixLength().isPresent()) {
        return false;
      }
      if (open.remove(part.value())) {
        if (!keepsOrder(part, position, match)) {
          return false;
        }
      } else if (!passesOver(part, demand, match)) {
        return false;
      }
    }
    return open.isEmpty();
  }

  private static boolean isOrdered(IndexEntry entry) {
    return entry.index().method() == IndexMethod.BTREE;
  }

  private static boolean isPatternOrder(KeyColumn part) {
    return part.operatorClass().map(name -> name.endsWith("pattern_ops")).orElse(false);
  }

  /** True when the value is the same in every row that qualifies. */
  private boolean isFixed(Expression value, Demand demand) {
    boolean byNull = dialect.ordering().nullFixes().value();
    return demand.boundsOn(value).stream()
        .anyMatch(
            bound -> bound.kind() == Kind.EQUALITY || (byNull && bound.kind() == Kind.IS_NULL));
  }

  private boolean passesOver(KeyColumn part, Demand demand, KeyMatch match) {
    boolean credited =
        match.values().contains(part.value())
            ? dialect.ordering().afterEquality().value()
            : dialect.ordering().overFiltered().value();
    return credited && isFixed(part.value(), demand);
  }

  /** An IN list reads several stretches, one a value; whether they join in order differs. */
  private boolean keepsOrder(KeyColumn part, int position, KeyMatch match) {
    int matched = match.values().indexOf(part.value());
    if (matched < 0 || match.matched().get(matched).kind() != Kind.IN_LIST) {
      return true;
    }
    InListOrder rule = dialect.ordering().inListKeepsOrder().value();
    return switch (rule) {
      case KEPT -> true;
      case KEPT_ON_LEADING -> position == 0;
      case LOST -> false;
    };
  }

  private boolean runsAlong(KeyColumn part, OrderItem item, Demand demand, boolean backward) {
    boolean stored = part.descending() && dialect.features().descending().value();
    if ((stored != backward) != item.descending()) {
      return false;
    }
    boolean nullable =
        part.value().columns().stream().anyMatch(column -> table.isNullable(column.column()))
            && demand.conditions().stream()
                .noneMatch(condition -> Implication.rejectsNull(condition, part.value()));
    return !nullable
        || (nullsFirst(part.nulls(), stored) != backward)
            == nullsFirst(item.nulls(), item.descending());
  }

  private boolean nullsFirst(NullOrder written, boolean descending) {
    return switch (written) {
      case FIRST -> true;
      case LAST -> false;
      case DEFAULT -> dialect.ordering().nullsFirst().value() != descending;
    };
  }
}
