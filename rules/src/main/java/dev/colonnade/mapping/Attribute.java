package dev.colonnade.mapping;

import java.util.List;
import java.util.Optional;

/** A persistent attribute. */
public sealed interface Attribute {
  /** Its name in the class. */
  String name();

  /**
   * A value in one column.
   *
   * @param column where it lies
   * @param type what it holds
   */
  record Basic(String name, MappedColumn column, ValueType type) implements Attribute {}

  /**
   * A value computed by SQL.
   *
   * @param formula the text, cut where the alias of the entity's table belongs
   */
  record Formula(String name, Restriction formula) implements Attribute {}

  /**
   * Several attributes under one name, in columns of the entity itself.
   *
   * @param className binary name of the embeddable class
   */
  record Embedded(String name, String className, List<Attribute> attributes) implements Attribute {
    /** Copies the list. */
    public Embedded {
      attributes = List.copyOf(attributes);
    }
  }

  /**
   * A reference to one entity.
   *
   * @param target binary name of its class
   * @param link the way to it
   * @param optional true unless the reference itself says that there is always one
   * @param nullable true where it is optional and none of its columns says otherwise
   * @param mayDangle true where its key may be that of no row, so that the row has to be looked for
   * @param fetching how it is read
   */
  record ToOne(
      String name,
      String target,
      Link link,
      boolean optional,
      boolean nullable,
      boolean mayDangle,
      Fetching fetching)
      implements Attribute {}

  /**
   * A collection of entities or values.
   *
   * @param target binary name of the entity's class; empty for a collection of values
   * @param link the way to it
   * @param key the key of a map, in columns of the target or of the table between; empty for a list
   *     or set, and where the key is not a column
   * @param index the column of a list's positions
   * @param orderBy the order of its elements, in JPQL: empty text for the target's identifier
   * @param restrictions conditions on its elements
   * @param traits how it is kept
   */
  record ToMany(
      String name,
      Optional<String> target,
      Link link,
      Optional<Attribute> key,
      Optional<MappedColumn> index,
      Optional<String> orderBy,
      List<Restriction> restrictions,
      CollectionTraits traits)
      implements Attribute {
    /** Copies the list. */
    public ToMany {
      restrictions = List.copyOf(restrictions);
    }
  }
}
