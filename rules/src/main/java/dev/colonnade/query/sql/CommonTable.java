package dev.colonnade.query.sql;

import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.Optional;
import net.sf.jsqlparser.statement.select.Select;

/** A common table expression, known by name while the query that it belongs to is read. */
final class CommonTable {
  /**
   * A query that is read where it is named, not where it is defined.
   *
   * @param select the query
   * @param scope the names that its definition sees
   * @param aliases the names of its columns, where the definition gives some
   */
  record Deferred(Select select, Scope scope, List<Identifier> aliases) {}

  private final Optional<Integer> block;
  private final Optional<Deferred> deferred;
  private RowShape shape;

  private CommonTable(Optional<Integer> block, Optional<Deferred> deferred, RowShape shape) {
    this.block = block;
    this.deferred = deferred;
    this.shape = shape;
  }

  /**
   * A table whose query is being read.
   *
   * @param shape the columns as far as they are known beforehand
   */
  static CommonTable of(int block, RowShape shape) {
    return new CommonTable(Optional.of(block), Optional.empty(), shape);
  }

  /** A table whose query is read anew wherever it is named. */
  static CommonTable of(Deferred deferred) {
    return new CommonTable(Optional.empty(), Optional.of(deferred), RowShape.UNKNOWN);
  }

  Optional<Integer> block() {
    return block;
  }

  Optional<Deferred> deferred() {
    return deferred;
  }

  RowShape shape() {
    return shape;
  }

  /** Called as soon as the first operand of the query is read. */
  void shapeIs(RowShape known) {
    shape = known;
  }
}
