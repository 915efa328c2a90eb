package dev.colonnade.sql;

/**
 * Thrown while SQL text is read when something in it is not understood. The message is the reason
 * for people, one sentence without full stop. Callers turn it into an entry of the report; it never
 * leaves the reading packages.
 */
public final class UnreadableSqlException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final int line;
  private final int column;

  /** A reason, such as {@code unknown column berth.lenght}. */
  public UnreadableSqlException(String reason) {
    this(reason, 0, 0);
  }

  /** A reason that belongs to a place in the text, both counted from 1. */
  public UnreadableSqlException(String reason, int line, int column) {
    super(reason);
    this.line = line;
    this.column = column;
  }

  /** The line in the text that was read, counted from 1; 0 where the reason has no place. */
  public int line() {
    return line;
  }

  /** The column in the text that was read, counted from 1; 0 where the reason has no place. */
  public int column() {
    return column;
  }
}
