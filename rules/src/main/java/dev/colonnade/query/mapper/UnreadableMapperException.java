package dev.colonnade.query.mapper;

/** A mapper or a part of it makes no sense. The message is a reason without full stop. */
final class UnreadableMapperException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final int line;

  UnreadableMapperException(String reason, int line) {
    super(reason);
    this.line = line;
  }

  /** Where, counted from 1. */
  int line() {
    return line;
  }
}
