package dev.colonnade.access;

import dev.colonnade.dialect.ScanRules;
import dev.colonnade.query.OrderItem;
import java.util.Optional;

/**
 * What is left of the bounds of a scan in the direction in which an order, or the search for the
 * largest value, has the index read.
 *
 * @param rules which ends bound a scan that is read backwards
 * @param orders which orders a scan delivers
 */
record ReadingDirection(ScanRules rules, OrderMatcher orders) {

  /** The match, without a last column that does not bound the scan read backwards. */
  KeyMatch asRead(IndexEntry entry, Demand demand, KeyMatch match, BlockTraits traits) {
    int last = match.matched().size() - 1;
    boolean open =
        !rules.lowerEndBackwards().value()
            && last > 0
            && match.matched().get(last).isLowerEnd()
            && match.matched().subList(0, last).stream()
                .anyMatch(it -> it.kind() != Bound.Kind.IS_NULL);
    return open && isBackwards(entry, demand, match, traits) ? match.withoutLast() : match;
  }

  private boolean isBackwards(IndexEntry entry, Demand demand, KeyMatch match, BlockTraits traits) {
    boolean largest =
        traits.largest() && traits.extreme().equals(Optional.of(entry.search().get(0).value()));
    return largest
        || (!traits.grouped()
            && !demand.order().isEmpty()
            && demand.order().stream().allMatch(OrderItem::descending)
            && orders.servesOrder(entry, demand, match, false));
  }
}
