package dev.colonnade.query;

import dev.colonnade.predicate.Expression;
import dev.colonnade.schema.NullOrder;

/** One term of an ORDER BY. */
public record OrderItem(Expression expression, boolean descending, NullOrder nulls) {}
