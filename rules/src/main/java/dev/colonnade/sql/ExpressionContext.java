package dev.colonnade.sql;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Not;
import java.util.List;
import java.util.Optional;
import net.sf.jsqlparser.statement.select.Select;

/** What an expression stands in: gives names their meaning and takes note of what is met. */
@FunctionalInterface
public interface ExpressionContext {
  /** The columns of the table itself, for what belongs to one table: index keys, predicates. */
  ExpressionContext SELF = (qualifier, name) -> new ColumnRef(ColumnRef.SELF, name);

  /**
   * The meaning of a column name.
   *
   * @param qualifier the table or alias in front of it, if one was written
   * @throws UnreadableSqlException when the name means nothing here
   */
  Expression column(Optional<Identifier> qualifier, Identifier name);

  /**
   * Takes in a subquery.
   *
   * @throws UnreadableSqlException when there can be none here
   */
  default Subquery subquery(Select select, SubqueryKind kind) {
    throw new UnreadableSqlException("a subquery cannot stand here");
  }

  /** Takes note of an aggregate call. */
  default void aggregate(String function, List<Expression> arguments, boolean distinct) {}

  /** What NOT in front of a condition comes to. */
  default Predicate negated(Predicate condition) {
    return new Not(condition);
  }

  /** The placeholder as the author wrote it, given the one that the parser saw. */
  default String placeholder(String parsed) {
    return parsed;
  }

  /** What a subquery is needed for. */
  enum SubqueryKind {
    /** Whether it has rows. */
    EXISTS,
    /** Its rows, to look for a value among them. */
    IN,
    /** Its one value. */
    SCALAR
  }
}
