package dev.colonnade.query.sql;

import net.sf.jsqlparser.expression.Expression;

/** Reads WHERE. */
final class OracleJoins {
  private OracleJoins() {}

  static void readWhere(BlockBuilder block, Expression where) {
    block.where(block.reader().predicate(where));
  }
}
