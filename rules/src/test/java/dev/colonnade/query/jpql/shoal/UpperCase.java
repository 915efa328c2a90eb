package dev.colonnade.query.jpql.shoal;

import org.springframework.data.relational.core.mapping.NamingStrategy;

/** Names of the service's own making. */
class UpperCase implements NamingStrategy {
  @Override
  public String getTableName(Class<?> type) {
    throw new IllegalStateException("never run");
  }
}
