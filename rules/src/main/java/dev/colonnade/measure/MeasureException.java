package dev.colonnade.measure;

/** The measurement cannot go on; the message stands by itself. */
public final class MeasureException extends Exception {
  private static final long serialVersionUID = 1;

  /** With the reason for people. */
  public MeasureException(String message) {
    super(message);
  }

  /** With the reason for people and what caused it. */
  public MeasureException(String message, Throwable cause) {
    super(message, cause);
  }
}
