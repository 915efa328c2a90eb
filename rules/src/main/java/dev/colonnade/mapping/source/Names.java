package dev.colonnade.mapping.source;

import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.predicate.Identifier;

/** Turns names of classes and annotations into names of the database. */
final class Names {
  private final NamingStrategy strategy;

  Names(NamingStrategy strategy) {
    this.strategy = strategy;
  }

  /** The name of a table or column; quotes around it are dropped. */
  Identifier physical(String logical) {
    return new Identifier(strategy.physical(Identifier.of(logical).text()));
  }

  NamingStrategy strategy() {
    return strategy;
  }
}
