package dev.colonnade.query.source.quay;

import org.jdbi.v3.sqlobject.statement.SqlQuery;

/** What several data access objects ask. */
public interface QuayParts {
  @SqlQuery("select max(depth) from quay")
  Double greatestDepth();
}
