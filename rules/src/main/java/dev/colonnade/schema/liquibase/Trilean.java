package dev.colonnade.schema.liquibase;

/** Whether a precondition holds. */
enum Trilean {
  TRUE,
  FALSE,
  UNKNOWN;

  static Trilean of(boolean value) {
    return value ? TRUE : FALSE;
  }

  Trilean and(Trilean other) {
    if (this == FALSE || other == FALSE) {
      return FALSE;
    }
    return this == TRUE && other == TRUE ? TRUE : UNKNOWN;
  }

  Trilean or(Trilean other) {
    return not().and(other.not()).not();
  }

  Trilean not() {
    return switch (this) {
      case TRUE -> FALSE;
      case FALSE -> TRUE;
      case UNKNOWN -> UNKNOWN;
    };
  }
}
