package dev.colonnade.rule;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.finding.Finding;
import java.util.Optional;

/** A rule about how one query reads one of its tables. */
public non-sealed interface QueryRule extends Rule {
  /**
   * At most one finding for each use of a table.
   *
   * @param query the query
   * @param access one of its table uses
   */
  Optional<Finding> check(QueryAccess query, TableAccess access, RuleContext context);
}
