package dev.colonnade.query;

/** What a block is to the statement. */
public enum BlockRole {
  /** The statement itself. */
  MAIN,
  /** A further operand of UNION, INTERSECT or EXCEPT. */
  SET_OPERAND,
  /** A derived table in FROM. */
  DERIVED_TABLE,
  /** A common table expression. */
  COMMON_TABLE_EXPRESSION,
  /** Under EXISTS or NOT EXISTS. */
  EXISTS,
  /** Under IN or NOT IN, ANY, ALL. */
  IN,
  /** Yields one value. */
  SCALAR
}
