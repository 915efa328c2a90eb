package dev.colonnade.query;

import dev.colonnade.predicate.Expression;
import java.util.List;

/**
 * An aggregate function in the select list, HAVING or ORDER BY.
 *
 * @param function lower case name: {@code sum}
 * @param arguments empty for {@code count(*)}
 */
public record Aggregate(String function, List<Expression> arguments, boolean distinct) {
  /** Copies the list. */
  public Aggregate {
    arguments = List.copyOf(arguments);
  }
}
