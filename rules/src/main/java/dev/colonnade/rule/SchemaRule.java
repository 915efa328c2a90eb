package dev.colonnade.rule;

import dev.colonnade.finding.Finding;
import dev.colonnade.schema.Table;
import java.util.List;

/** A rule about the indexes of a table. */
public non-sealed interface SchemaRule extends Rule {
  /** At most one finding for each index of the table. */
  List<Finding> check(Table table, RuleContext context);
}
