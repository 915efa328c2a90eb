package dev.colonnade.sql;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Predicate;
import java.util.List;

/**
 * Turns JSqlParser's expressions into ours. What has no structure that an index could use becomes
 * opaque, with every column that it reads.
 *
 * <p>Conditions come out as written, not normalized: {@code Conditions.conjuncts} does that.
 */
public final class ExpressionReader {
  private final ValueReader values;
  private final ConditionReader conditions;

  /** Reads expressions whose names mean what the context says. */
  public ExpressionReader(ExpressionContext context) {
    this.values = new ValueReader(context, this);
    this.conditions = new ConditionReader(context, this);
  }

  /** Reads what belongs to one table alone, such as an index key. */
  public static ExpressionReader ofTable() {
    return new ExpressionReader(ExpressionContext.SELF);
  }

  /**
   * The value.
   *
   * @throws UnreadableSqlException when a name in it means nothing
   */
  public Expression expression(net.sf.jsqlparser.expression.Expression parsed) {
    return values.read(parsed);
  }

  /** The values of a list. */
  public List<Expression> expressions(
      List<? extends net.sf.jsqlparser.expression.Expression> parsed) {
    return parsed.stream().map(this::expression).toList();
  }

  /**
   * The condition.
   *
   * @throws UnreadableSqlException when a name in it means nothing
   */
  public Predicate predicate(net.sf.jsqlparser.expression.Expression parsed) {
    return conditions.read(parsed);
  }
}
