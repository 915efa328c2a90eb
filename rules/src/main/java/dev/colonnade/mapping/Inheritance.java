package dev.colonnade.mapping;

/** How a class hierarchy lies in tables (Jakarta Persistence 3.2, section 2.13). */
public enum Inheritance {
  /** The entity has neither a parent nor children that are entities. */
  NONE,
  /** One table for all, told apart by a discriminator. */
  SINGLE_TABLE,
  /** A table for each class with the attributes it declares, joined by the identifier. */
  JOINED,
  /** A whole table for each concrete class. */
  TABLE_PER_CLASS
}
