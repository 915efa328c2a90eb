package dev.colonnade.predicate;

/** The comparison operators of SQL. */
public enum ComparisonOperator {
  /** Equal. */
  EQUAL("="),
  /** Equal or both NULL ({@code <=>}, {@code IS NOT DISTINCT FROM}, SQLite's {@code IS}). */
  NULL_SAFE_EQUAL("<=>"),
  /** Less. */
  LESS("<"),
  /** Less or equal. */
  LESS_OR_EQUAL("<="),
  /** Greater. */
  GREATER(">"),
  /** Greater or equal. */
  GREATER_OR_EQUAL(">="),
  /** Not equal. */
  NOT_EQUAL("<>"),
  /** Different, NULL being a value ({@code IS DISTINCT FROM}). */
  NULL_SAFE_NOT_EQUAL("is distinct from");

  private final String sign;

  ComparisonOperator(String sign) {
    this.sign = sign;
  }

  /** The operator as written in SQL. */
  public String sign() {
    return sign;
  }

  /** The operator after its operands changed sides. */
  public ComparisonOperator flipped() {
    return switch (this) {
      case EQUAL, NULL_SAFE_EQUAL, NOT_EQUAL, NULL_SAFE_NOT_EQUAL -> this;
      case LESS -> GREATER;
      case LESS_OR_EQUAL -> GREATER_OR_EQUAL;
      case GREATER -> LESS;
      case GREATER_OR_EQUAL -> LESS_OR_EQUAL;
    };
  }

  /** The operator that holds where this one is false (NULL operands left aside). */
  public ComparisonOperator negated() {
    return switch (this) {
      case EQUAL -> NOT_EQUAL;
      case NOT_EQUAL -> EQUAL;
      case NULL_SAFE_EQUAL -> NULL_SAFE_NOT_EQUAL;
      case NULL_SAFE_NOT_EQUAL -> NULL_SAFE_EQUAL;
      case LESS -> GREATER_OR_EQUAL;
      case LESS_OR_EQUAL -> GREATER;
      case GREATER -> LESS_OR_EQUAL;
      case GREATER_OR_EQUAL -> LESS;
    };
  }

  /** The operator of the same direction that holds for equal operands as well. */
  public ComparisonOperator inclusive() {
    return switch (this) {
      case LESS -> LESS_OR_EQUAL;
      case GREATER -> GREATER_OR_EQUAL;
      case EQUAL,
          NULL_SAFE_EQUAL,
          NOT_EQUAL,
          NULL_SAFE_NOT_EQUAL,
          LESS_OR_EQUAL,
          GREATER_OR_EQUAL ->
          this;
    };
  }

  /** True for the four operators that bound a stretch of an ordered index on one side. */
  public boolean isRange() {
    return switch (this) {
      case LESS, LESS_OR_EQUAL, GREATER, GREATER_OR_EQUAL -> true;
      case EQUAL, NULL_SAFE_EQUAL, NOT_EQUAL, NULL_SAFE_NOT_EQUAL -> false;
    };
  }
}
