package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What an alias of a query stands for. */
sealed interface Source permits EntityUse, Source.Elements, Source.Rows {

  /**
   * The elements of a collection of values.
   *
   * @param alias the alias of the collection's table
   * @param element the element, in columns of that table
   */
  record Elements(String alias, Attribute element, Optional<CollectionPart> part)
      implements Source {}

  /**
   * The rows of a subquery or a common table expression.
   *
   * @param columns the column of each name
   */
  record Rows(String alias, Map<String, List<String>> columns) implements Source {}

  /**
   * The place of an element in its collection.
   *
   * @param alias alias of the table with the key or the position
   * @param key the key of a map
   * @param index the position in a list
   * @param keyAttribute the attribute of the element that is the key of a map
   */
  record CollectionPart(
      String alias,
      Optional<Attribute> key,
      Optional<Identifier> index,
      Optional<String> keyAttribute) {}
}
