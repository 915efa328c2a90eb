package dev.colonnade.query.derived;

/** A word in a method's name that is no attribute, or a condition that has no JPQL. */
final class UnknownNameException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  UnknownNameException(String message) {
    super(message, null, false, false);
  }
}
