package dev.colonnade.mapping;

import java.util.List;
import java.util.Optional;

/**
 * How a collection is kept.
 *
 * @param bag true for elements in no order that may repeat: a list without positions
 * @param fetching how it is read
 * @param linkRestrictions conditions on the table between
 * @param filters conditions that can be switched on
 * @param keyAttribute the attribute of its elements that is a map's key; empty text for the
 *     identifier
 * @param sqlOrder the order of its elements where it is given in SQL, cut where the alias of their
 *     table belongs
 * @param softDelete how rows of the table between or of the elements are marked as deleted
 */
public record CollectionTraits(
    boolean bag,
    Fetching fetching,
    List<Restriction> linkRestrictions,
    List<Filter> filters,
    Optional<String> keyAttribute,
    Optional<Restriction> sqlOrder,
    Optional<SoftDelete> softDelete) {
  /** Copies the lists. */
  public CollectionTraits {
    linkRestrictions = List.copyOf(linkRestrictions);
    filters = List.copyOf(filters);
  }
}
