package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.ValueType;
import dev.colonnade.query.jpql.Joiner.Holder;
import java.util.List;
import java.util.Optional;

/** A place on a path. */
sealed interface Node {
  /**
   * An alias, or an entity that has been joined.
   *
   * @param along the reference that led there, where a path did and no alias
   */
  record AtSource(Source source, Optional<AtReference> along) implements Node {
    AtSource(Source source) {
      this(source, Optional.empty());
    }
  }

  /** A reference that has not been joined and perhaps need not be. */
  record AtReference(Holder holder, Attribute.ToOne one) implements Node {}

  /** A value: basic or embedded. */
  record AtValue(Holder holder, Attribute attribute) implements Node {}

  /** A collection. */
  record AtCollection(Holder holder, Attribute.ToMany many) implements Node {}

  /** HQL's old word for the class of an entity. */
  record AtType(EntityUse use) implements Node {}

  /** Columns of a subquery's rows. */
  record AtColumns(List<String> sql, Optional<ValueType> type) implements Node {}
}
