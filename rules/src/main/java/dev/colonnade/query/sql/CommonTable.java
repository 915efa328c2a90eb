package dev.colonnade.query.sql;

import java.util.Optional;

/** A common table expression, known by name while the query that it belongs to is read. */
final class CommonTable {
  private final int block;
  private RowShape shape;

  /**
   * A table whose query is being read.
   *
   * @param shape the columns as far as they are known beforehand
   */
  CommonTable(int block, RowShape shape) {
    this.block = block;
    this.shape = shape;
  }

  Optional<Integer> block() {
    return Optional.of(block);
  }

  RowShape shape() {
    return shape;
  }

  /** Called as soon as the first operand of the query is read. */
  void shapeIs(RowShape known) {
    shape = known;
  }
}
